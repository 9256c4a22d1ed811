"""What each key and button does: one table, from which bindings, buttons and help are made.

The keys of the pair's own keypad are not here: digits, * and # go to it as they are.
"""

from dataclasses import dataclass

KEYPAD = "123456789*0#"
"""The keypad's keys, row by row."""


@dataclass(frozen=True, slots=True)
class Act:
    """Something a person may ask for."""

    name: str
    key: str
    """As the terminal calls it."""
    mark: str
    """The key as it is written on the screen."""
    label: str
    """A word or two, for a button."""
    about: str
    """A line, for help."""


@dataclass(frozen=True, slots=True)
class Group:
    """Acts that belong together."""

    title: str
    acts: tuple[Act, ...]


GROUPS = (
    Group(
        "Near end",
        (
            Act("meter", "m", "m", "meter", "Choose a meter and clip it, or take it off"),
            Act("across", "t", "t", "terminals", "Choose the two terminals that it is clipped to"),
            Act("read", "r", "r", "read", "Press the meter's button: a measuring cycle begins"),
            Act("zero", "z", "z", "zero", "Touch the leads together; they leave later readings"),
            Act("lead", "l", "l", "clip lead", "Put a clip lead on the near end, or take it off"),
            Act("lift", "b", "b", "lift", "Lift what is behind the near end, or put it back"),
        ),
    ),
    Group(
        "Far end",
        (Act("helper", "h", "h", "ask helper", "Ask the helper who stands at the far end"),),
    ),
    Group(
        "Logbook",
        (
            Act("write", "w", "w", "write reading", "Write the reading into the logbook"),
            Act("note", "n", "n", "note", "Write a note of your own"),
            Act("length", "f", "f", "m/ft", "Lengths in metres or in feet"),
        ),
    ),
    Group(
        "Time",
        (
            Act("pause", "space", "space", "pause", "Let time stand, or go on"),
            Act("faster", "plus", "+", "faster", "Let time go faster: 4 times, 20 times"),
            Act("slower", "minus", "-", "slower", "Let time go slower again"),
        ),
    ),
    Group(
        "Screen",
        (
            Act("help", "question_mark", "?", "help", "Keys, and the card of the codes"),
            Act("light", "d", "d", "dark, light", "Dark letters on light, or light on dark"),
            Act("trainer", "f8", "F8", "trainer", "For the trainer: show the far end's inside"),
            Act("leave", "q", "q", "leave", "Leave the bench; the logbook is kept"),
        ),
    ),
)

ACTS = {act.name: act for group in GROUPS for act in group.acts}
"""Every act by its name."""

HINTS = ("help", "pause", "faster", "slower", "light", "leave")
"""What the last line of the screen tells; help tells the rest."""
