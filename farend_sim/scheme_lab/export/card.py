"""A scheme as a card to carry: what to key, what comes back, and what ends by itself.

Law: everything on the card is read from the scheme; nothing about codes is written here.
"""

from collections.abc import Iterator

from farend_sim.unit.codes import CompiledCommand, CompiledScheme, compiled
from farend_sim.unit.keying import written
from farend_sim.unit.scheme import STATE_NAMES, Command, Scheme, Tone

WIDTH = 72
CAUTION = (
    "A simulator's card: no reading proves a real pair safe; "
    "local codes and licensed practice come first."
)
_WORDS = {
    "tone": "tone on the pair",
    "strap": "strap tip to ring",
    "tip-ground": "tip to ground",
    "ring-ground": "ring to ground",
    "both-ground": "both legs to ground",
    "open": "open, office off",
    "off-pair": "unit off the pair",
    "status": "tell the state",
    "set-hold": "set the hold",
    "release": "let go",
}


def card(scheme: Scheme) -> str:
    """The whole card, in plain text of some seventy columns."""
    parts = (
        [scheme.title, "=" * min(len(scheme.title), WIDTH)],
        list(_knock(scheme)),
        list(_commands(scheme)),
        list(_rules(scheme)),
        list(_replies(scheme)),
        [CAUTION],
    )
    return "\n\n".join("\n".join(part) for part in parts) + "\n"


def keys_of(code: CompiledScheme, command: CompiledCommand) -> str:
    """What is keyed, with `s` for a digit of seconds and `c` for their check digit."""
    return written(code, command) + " twice" * command.confirmed


def _knock(scheme: Scheme) -> Iterator[str]:
    yield f"KNOCK      {' '.join(scheme.knock)}  then the unit's number {scheme.unit_number}"
    pause = f"{scheme.gap_s:g} s at most between two keys"
    yield f"           attends {scheme.attention_s:g} s; {pause}"


def _commands(scheme: Scheme) -> Iterator[str]:
    yield f"{'KEYS':<12}{'DOES':<22}{'HOLD (s)':<20}{'NOT TAKEN IN'}"
    code = compiled(scheme)
    for command in scheme.command:
        keys, words = keys_of(code, code.of(command.does)), _WORDS[command.does]
        row = f"{keys:<12}{words:<22}{_hold(command):<20}{_refusing(command)}"
        yield row.rstrip()


def _hold(command: Command) -> str:
    bounds = [command.shortest_s, command.longest_s]
    between = " to ".join("?" if each is None else f"{each:g}" for each in bounds)
    if command.does == "set-hold":
        return between
    return "-" if command.hold_s is None else f"{command.hold_s:g} ({between})"


def _refusing(command: Command) -> str:
    """The states that do not take it; idle never does, since nobody has knocked."""
    without = [name for name in STATE_NAMES if name not in command.taken_in and name != "idle"]
    return ", ".join(without)


def _rules(scheme: Scheme) -> Iterator[str]:
    if any(command.argument_digits for command in scheme.command):
        yield "s: a digit of seconds." + (
            " c: its check digit, of the table below."
            if scheme.check != "none"
            else " No check digit."
        )
    more = [command.code for command in scheme.command if command.keeps_attention]
    yield (
        "After any command: knock again."
        if not more
        else (f"Another command may follow {', '.join(more)}; after any other, knock again.")
    )
    if scheme.restart:
        yield f"{scheme.knock[0]} always begins anew."
    yield {
        "close": "Too long a pause: the unit attends no longer.",
        "drop": "Too long a pause: what was keyed is forgotten, begin the command anew.",
        "keep": "Too long a pause: what was keyed stays, and the next keys are added to it.",
    }[scheme.leftover]
    if not scheme.knock_after_hold:
        yield "When a hold is over the unit attends again without a knock."
    if scheme.lockout.refusals:
        yield f"{scheme.lockout.refusals} refusals in a row: deaf for {scheme.lockout.lock_s:g} s."
    if scheme.check != "none":
        yield from _table(scheme)


def _table(scheme: Scheme) -> Iterator[str]:
    yield ""
    yield "Check digit: begin at row 0; each digit's column names the next row; the last is it."
    yield "     " + " ".join("0123456789")
    for at, row in enumerate(scheme.check_table):
        yield f"  {at}  " + " ".join(map(str, row))


def _replies(scheme: Scheme) -> Iterator[str]:
    middle_hz = scheme.middle_hz
    yield f"Replies (low _ under {middle_hz:g} Hz, high ' over it; long: 200 ms or more)"
    for reply in scheme.reply:
        marks = "".join(_mark(tone, middle_hz) for tone in reply.tone)
        yield f"  {reply.name:<22}{marks}"


def _mark(tone: Tone, middle_hz: float) -> str:
    """Low or high, doubled where it is long; a space for silence."""
    if tone.hz == 0:
        return " "
    return ("'" if tone.hz > middle_hz else "_") * (2 if tone.duration_ms >= 200 else 1)
