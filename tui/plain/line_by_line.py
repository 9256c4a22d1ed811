"""A scenario worked line by line: a step is typed, what came of it is printed. No screen is drawn.

Law: the words are a steps file's, so whoever cannot or will not look at a screen does all the same.
"""

from collections.abc import Iterable, Iterator

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.grammar import parse_for
from farend_sim.bench.steps.transcript import Row, as_technician, play_one
from farend_sim.errors import BadFileError
from farend_sim.scheme_lab.export.card import card
from farend_sim.situation import Situation
from tui.plain.verbs_told import verbs_text

HELP, LEAVE, CARD = ("help", "?"), ("quit", "leave"), "card"
ASKS = "step> "


def worked(
    situation: Situation, lines: Iterable[str], show_unit: bool
) -> Iterator[Row | str | BadFileError]:
    """What came of each line: a row, help, or what is wrong with the line."""
    bench = Bench(situation)
    for number, line in enumerate(lines, start=1):
        text = line.strip()
        if text in LEAVE:
            return
        if text in HELP:
            yield f"{verbs_text(situation)}\n  card, help, quit"
        elif text == CARD:
            yield card(situation.scheme).rstrip()
        elif text and not text.startswith("#"):
            try:
                (step,) = parse_for(situation, text, f"line {number}")
            except BadFileError as error:
                yield BadFileError(str(error).replace(f"line {number}:1:", f"line {number}:"))
                continue
            row = play_one(bench, step)
            yield row if show_unit else as_technician(row)
