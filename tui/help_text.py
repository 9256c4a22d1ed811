"""The help screen's text, made from the tables: the keys, and the card of the loaded scheme."""

from textual.content import Content

from farend_sim.cautions import CAUTIONS
from farend_sim.scheme_lab.export.card import card
from farend_sim.unit.codes import compiled
from farend_sim.unit.keying import keys_for
from farend_sim.unit.scheme import Scheme
from tui.keymap import GROUPS, Group

_HOLDS_S = (10, 30, 60, 120, 300, 600)
"""Holds whose keys are spelt out."""


def bench_help(scheme: Scheme, brief: str) -> Content:
    """Everything the help screen says at a bench."""
    parts = [
        _heading("This pair"),
        Content(brief),
        _heading("Keypad"),
        _line("0-9 * #", "Sent over the pair, one after another"),
        *_keys(GROUPS),
        _heading("The card"),
        Content(" ".join(scheme.about.split()) + "\n"),
        Content(card(scheme).rstrip()),
        _heading("Holds spelt out"),
        *_holds(scheme),
        *_cautions(),
    ]
    return Content("\n").join(parts)


def keys_help(groups: tuple[Group, ...]) -> Content:
    """What the help screen says elsewhere."""
    return Content("\n").join([*_keys(groups), *_cautions()])


def _cautions() -> tuple[Content, Content]:
    heading = "Cautions: what is practised here is done, for real, on conductors that can hurt"
    return _heading(heading), Content("\n".join(CAUTIONS))


def _heading(words: str) -> Content:
    return Content.assemble("\n", (words, "bold $accent"))


def _keys(groups: tuple[Group, ...]) -> list[Content]:
    lines: list[Content] = []
    for group in groups:
        lines.append(_heading(group.title))
        lines += [_line(act.mark, act.about) for act in group.acts]
    return lines


def _line(key: str, about: str) -> Content:
    return Content.assemble((f"{key:>10}", "bold"), f"  {about}")


def _holds(scheme: Scheme) -> list[Content]:
    """So that nobody has to work out a check digit in the field."""
    code = compiled(scheme)
    setter = code.of("set-hold")
    return [
        _line(keys_for(code, setter, hold_s), f"hold of {hold_s} s")
        for hold_s in _HOLDS_S
        if hold_s in setter.values
    ]
