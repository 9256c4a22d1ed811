"""The help screen's text, made from the tables: the keys, and the card of the loaded scheme."""

from textual.content import Content

from farend_sim.cautions import CAUTIONS
from tui.card import Card, CardRow
from tui.keymap import GROUPS, Group


def bench_help(card: Card, brief: str) -> Content:
    """Everything the help screen says at a bench."""
    parts = [
        _heading("This pair"),
        Content(brief),
        _heading("Keypad"),
        _line("0-9 * #", "Sent over the pair, one after another"),
        *_keys(GROUPS),
        _heading(f"The card: {card.title}"),
        Content(card.about),
        *(_row(row) for row in card.commands),
        _heading("What the unit sounds"),
        *(_row(row) for row in card.replies),
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


def _row(row: CardRow) -> Content:
    return Content.assemble((f"{row.keys:>12}", "bold"), f"  {row.does:<22} {row.about}")
