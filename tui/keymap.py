"""What each key and button does: one table, from which bindings, buttons and help are made.

The keys of the pair's own keypad are not here: digits, * and # go to it as they are.
"""

from dataclasses import dataclass

from textual.binding import Binding, BindingType

KEYPAD = "123456789*0#"
"""The keypad's keys, row by row."""


@dataclass(frozen=True, slots=True)
class Act:
    """Something a person may ask for."""

    name: str
    key: str
    """As the terminal calls it."""
    label: str
    """A word or two, for a button."""
    about: str
    """A line, for help."""
    written: str = ""
    """The key on the screen, where it is not written as the terminal calls it."""

    @property
    def mark(self) -> str:
        """The key as it is written on the screen."""
        return self.written or self.key


@dataclass(frozen=True, slots=True)
class Group:
    """Acts that belong together."""

    title: str
    acts: tuple[Act, ...]


_TIME = (
    Act("pause", "space", "pause", "Let time stand, or go on"),
    Act("faster", "plus", "faster", "Let time go faster: 4 times, 20 times", "+"),
    Act("slower", "minus", "slower", "Let time go slower again", "-"),
)
_LENGTH = Act("length", "f", "m/ft", "Lengths in metres or in feet")
_SCREEN = (
    Act("palette", "ctrl+p", "all acts", "Type a word of what you want to do", "^p"),
    Act("light", "d", "dark, light", "Dark letters on light, or light on dark"),
)
_AWAY = (
    Act("help", "question_mark", "help", "These keys, and the cautions", "?"),
    *_SCREEN,
)
_PAGES = (
    Act("page_up", "pageup", "up", "Scroll up", "PgUp"),
    Act("page_down", "pagedown", "down", "Scroll down", "PgDn"),
)

GROUPS = (
    Group(
        "Near end",
        (
            Act("meter", "m", "meter", "Choose a meter and clip it, or take it off"),
            Act("across", "t", "terminals", "Choose the two terminals that it is clipped to"),
            Act("read", "r", "read", "Press the meter's button: a measuring cycle begins"),
            Act("zero", "z", "zero", "Touch the leads together; they leave later readings"),
            Act("lead", "l", "clip lead", "Put a clip lead on the near end, or take it off"),
            Act("lift", "b", "lift", "Lift what is behind the near end, or put it back"),
            Act("place", "p", "place", "Go along the route; open, look, join, repair"),
            Act("block", "k", "block", "Go to the block: posts, tone probe, pinch"),
            Act("step", "s", "step", "Type any step, as in a steps file"),
        ),
    ),
    Group(
        "Far end",
        (Act("helper", "h", "ask helper", "Ask the helper who stands at the far end"),),
    ),
    Group(
        "Logbook",
        (
            Act("write", "w", "write reading", "Write the reading into the logbook"),
            Act("note", "n", "note", "Write a note of your own"),
            Act("worksheet", "x", "worksheet", "From readings to a place on the record"),
            _LENGTH,
        ),
    ),
    Group(
        "Job",
        (
            Act("ticket", "i", "ticket", "The ticket and the plant record"),
            Act("answer", "a", "answer", "In a drill: say what is wrong with the pair"),
            Act("hint", "e", "hint", "In a drill: what to do next, for some marks"),
            Act("hand_in", "v", "hand in", "In a drill: the work is done; be marked"),
        ),
    ),
    Group(
        "Time",
        _TIME,
    ),
    Group(
        "Screen",
        (
            Act("help", "question_mark", "help", "Keys, and the card of the codes", "?"),
            *_SCREEN,
            Act("leave", "q", "leave", "Leave the bench; the logbook is kept"),
        ),
    ),
    Group(
        "For the trainer",
        (
            Act("trainer", "f8", "trainer", "Show the far end's inside below the bench", "F8"),
            Act("inside", "f9", "the whole pair", "The trainer's screen: line, unit, faults", "F9"),
        ),
    ),
)
"""At the bench."""

HOME = (
    Group(
        "Home",
        (
            Act("enter", "enter", "open", "Open what is marked", "Enter"),
            Act("rooms", "left", "rooms", "Go to the rooms"),
            Act("things", "right", "list", "Go to what is in the room"),
            Act("tour", "t", "tour", "A tour of a minute"),
            *_AWAY,
            Act("leave", "q", "leave", "Leave the program"),
        ),
    ),
)

INSIDE = (
    Group(
        "The trainer's screen",
        (
            Act("switch", "enter", "in or out", "Put what is marked in, or take it out", "Enter"),
            *_TIME,
            _LENGTH,
            *_AWAY,
            Act("back", "escape,f9,q", "bench", "Back to the bench", "Esc"),
        ),
    ),
)

BLOCK = (
    Group(
        "Block",
        (
            Act("clip", "enter,c", "clip", "Clip the leads to the marked post", "c"),
            Act("probe", "p", "probe", "Hold the probe between its legs"),
            Act("probe_tip", "t", "tip", "Hold the probe from its tip to the sheath"),
            Act("probe_ring", "r", "ring", "Hold the probe from its ring to the sheath"),
            Act("pinch", "n", "pinch", "Pinch its legs, and hear it both ways"),
            *_AWAY,
            Act("back", "escape,k,q", "bench", "Back to the bench", "Esc"),
        ),
    ),
)

SCHEME_LAB = (
    Group(
        "Scheme lab",
        (
            Act("check", "c", "check", "Check the scheme against all that can be keyed"),
            Act("play", "enter", "play", "Play the marked finding's keys on the bench", "Enter"),
            *_PAGES,
            *_AWAY,
            Act("back", "escape,q", "home", "Back to where you came from", "Esc"),
        ),
    ),
)

HOLD_LAB = (
    Group(
        "Hold lab",
        (
            Act("shorter", "left", "shorter", "A hold one second shorter"),
            Act("longer", "right", "longer", "A hold one second longer"),
            Act("much_shorter", "down", "10 s shorter", "A hold ten seconds shorter"),
            Act("much_longer", "up", "10 s longer", "A hold ten seconds longer"),
            Act("best", "b", "cheapest", "The hold that wastes least"),
            *_PAGES,
            *_AWAY,
            Act("back", "escape,q", "home", "Back to where you came from", "Esc"),
        ),
    ),
)

DEBRIEF = (
    Group(
        "Debrief",
        (
            Act("earlier", "left", "earlier", "The step before"),
            Act("later", "right", "later", "The step after"),
            Act("first", "home", "first", "The first step", "Home"),
            Act("last", "end", "last", "The last step", "End"),
            *_PAGES,
            *_AWAY,
            Act("back", "escape,q", "back", "Back to where you came from", "Esc"),
        ),
    ),
)


def acts_in(groups: tuple[Group, ...]) -> tuple[Act, ...]:
    """All acts of a table."""
    return tuple(act for group in groups for act in group.acts)


ACTS = {act.name: act for act in acts_in(GROUPS)}
"""Every act at the bench by its name."""


def bindings(groups: tuple[Group, ...]) -> list[BindingType]:
    """What a screen binds: every key of its table asks the app for its act."""
    return [
        Binding(act.key, f"app.act('{act.name}')", act.label, show=False) for act in acts_in(groups)
    ]


HINTS = ("help", "palette", "leave", "ticket", "worksheet", "step", "pause", "faster", "light")
"""What the last line of the bench shows; the palette has the rest."""
DRILL_HINTS = (
    "help",
    "palette",
    "leave",
    "ticket",
    "answer",
    "hand_in",
    "hint",
    "worksheet",
    "step",
)
"""What it shows in a drill."""
