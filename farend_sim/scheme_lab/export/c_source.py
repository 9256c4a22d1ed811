"""Scheme and unit as plain C99: constant tables written here, and the step beside this file.

Law: no number or key of a scheme, and no row of the table, stands in the C by hand.
"""

from collections.abc import Iterable, Iterator
from importlib.resources import files

from farend_sim.unit.codes import CompiledCommand, CompiledScheme
from farend_sim.unit.contacts import Closed, Contact
from farend_sim.unit.profile import Timing
from farend_sim.unit.table import AT_REST, HOLDS, OWN_REPLIES, SETTLED, TABLE, Action, Input, State

BITS = {contact: 1 << at for at, contact in enumerate(Contact)}
"""The bit of each contact, as the C has them."""


def c_source(title: str, scheme: CompiledScheme, timing: Timing, tone_hz: tuple[float, ...]) -> str:
    """One C file: types, tables, and the unit's step."""
    voices = Voices(scheme, timing, tone_hz)
    tables = "\n".join(
        [
            f"/* Generated from the scheme {_comment(title)!r}: change the scheme, not this. */",
            *_numbers(scheme, timing, voices),
            *_enums(),
            *_table(),
            *voices.source(),
            *_commands(scheme, voices),
        ]
    )
    return f"{_part('head.c')}\n{tables}\n{_part('step.c')}"


def _part(name: str) -> str:
    return (files("farend_sim.scheme_lab.export") / "firmware_c" / name).read_text(encoding="ascii")


def _comment(text: str) -> str:
    """Text that cannot end a comment; a compiler need not know more than ASCII."""
    apart = text.replace("*/", "* /").replace("/*", "/ *")
    return apart.encode("ascii", "backslashreplace").decode("ascii")


class Voices:
    """Every sound that the unit has, numbered: replies, and the tone of the tone state."""

    def __init__(self, scheme: CompiledScheme, timing: Timing, tone_hz: tuple[float, ...]) -> None:
        self.names = [*scheme.replies, "the tone state"]
        self.voices = [*scheme.replies.values(), timing.tone(tone_hz)]
        self.commons = sorted(
            {*OWN_REPLIES.values(), *(command.reply for command in scheme.commands)}
        )
        self.rows = [
            [self.voices.index(scheme.voice(name, state)) for state in State]
            for name in self.commons
        ]

    def source(self) -> Iterator[str]:
        for at, voice in enumerate(self.voices):
            listed = ", ".join(f"{{{round(1000 * s.hz)}, {s.duration_us}}}" for s in voice.segments)
            yield f"static const fe_segment fe_segments_{at}[] = {{ {listed} }};"
        yield f"static const fe_voice fe_voices[{len(self.voices)}] = {{"
        for at, (name, voice) in enumerate(zip(self.names, self.voices, strict=True)):
            repeat = "true" if voice.repeat else "false"
            row = f"fe_segments_{at}", len(voice.segments), repeat, voice.duration_us
            yield f"    {_braced(row)}, /* {_comment(name)} */"
        yield "};"
        yield f"static const int fe_replies[{len(self.rows)}][{len(State)}] = {{"
        yield from (f"    {_braced(row)}, /* {_comment(n)} */" for n, row in self._named())
        yield "};"

    def _named(self) -> Iterable[tuple[str, list[int]]]:
        return zip(self.commons, self.rows, strict=True)


def _braced(values: Iterable[int | str]) -> str:
    return "{ " + ", ".join(map(str, values)) + " }"


def _numbers(scheme: CompiledScheme, timing: Timing, voices: Voices) -> Iterator[str]:
    longest = max(scheme.longest, len(scheme.knock))
    numbers: dict[str, int | str] = {
        "LONGEST": scheme.longest,
        "KEYS_MOST": longest + 2,
        "KNOCK_KEYS": len(scheme.knock),
        "COMMANDS": len(scheme.commands),
        "START": _key(scheme.start),
        "END": _key(scheme.end),
        "RESTART": _key(scheme.restart),
        "LEFTOVER": _key(scheme.leftover[0]),
        "GAP": scheme.gap_us,
        "ATTENTION": scheme.attention_us,
        "KNOCK_AFTER_HOLD": int(scheme.knock_after_hold),
        "REFUSALS_TO_LOCK": scheme.refusals_to_lock,
        "LOCK": scheme.lock_us,
        "OPERATE": timing.operate_us,
        "REPLY_DELAY": timing.reply_delay_us,
        "KNOCK_REPLY_DELAY": timing.knock_reply_delay_us,
        "SLEEP_AFTER": timing.sleep_after_us,
        "VOICE_TONE": len(voices.voices) - 1,
        "HOLD_STATES": _mask(HOLDS),
        "REST_STATES": _mask(AT_REST),
        **{f"REPLY_{name.upper()}": voices.commons.index(name) for name in OWN_REPLIES.values()},
    }
    for name, value in numbers.items():
        wide = isinstance(value, int) and name in ("SLEEP_AFTER", "GAP", "ATTENTION", "LOCK")
        yield f"#define FE_{name} {f'INT64_C({value})' if wide else value}"
    yield f'static const char fe_knock[] = "{scheme.knock}";'
    rows = scheme.check_table or ((0,) * 10,)
    yield f"static const unsigned char fe_check_table[{len(rows)}][10] = {{"
    yield from (f"    {_braced(row)}," for row in rows)
    yield "};"


def _key(key: str) -> str:
    return f"'{key}'" if key else "0"


def _mask(states: Iterable[State]) -> str:
    order = list(State)
    return f"{sum(1 << order.index(state) for state in states)}u"


def _name(kind: str, value: str) -> str:
    return f"FE_{kind}_{value.upper().replace('-', '_')}"


def _enums() -> Iterator[str]:
    yield f"enum {_braced(f'FE_{contact.name} = {bit}' for contact, bit in BITS.items())};"
    yield f"enum {_braced(_name('ST', state.value) for state in State)};"
    yield f"enum {_braced(_name('IN', given.value) for given in Input)};"
    yield f"enum {_braced(_name('DO', action.value) for action in Action)};"


def bits(closed: Closed) -> int:
    """A set of contacts as the C has it."""
    return sum(BITS[contact] for contact in closed)


def _table() -> Iterator[str]:
    yield f"static const int fe_settled[{len(State)}] = {_braced(bits(SETTLED[s]) for s in State)};"
    yield f"static const fe_cell fe_table[{len(State)}][{len(Input)}] = {{"
    for state in State:
        yield f"  {{ /* {state.value} */"
        for given in Input:
            after, action = TABLE[state, given]
            cell = _braced((_name("ST", after.value), _name("DO", action.value)))
            yield f"    {cell}, /* {given.value} */"
        yield "  },"
    yield "};"


def _commands(scheme: CompiledScheme, voices: Voices) -> Iterator[str]:
    yield f"static const fe_command fe_commands[{len(scheme.commands)}] = {{"
    for command in scheme.commands:
        yield f"    {_command(command, voices)},"
    yield "};"


def _command(command: CompiledCommand, voices: Voices) -> str:
    wide = [command.hold_us or 0, command.shortest_us or 0, command.longest_us or 0]
    return _braced(
        [
            _name("IN", command.input.value),
            f'"{command.prefix}"',
            len(command.prefix),
            command.argument_digits,
            -1 if command.checked_from is None else command.checked_from,
            command.length,
            _mask(command.taken_in),
            voices.commons.index(command.reply),
            "true" if command.keeps_attention else "false",
            "true" if command.confirmed else "false",
            *(f"INT64_C({value})" for value in wide),
        ]
    )
