"""One thing done in an attempt, and the answers that stand after many of them."""

from collections.abc import Iterable
from dataclasses import dataclass

from farend_sim.bench import steps as s
from farend_sim.bench.answer import NONE, Answer
from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.transcript import Row


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Done:
    """One thing done: the step, its row with all that the far end knows, and the bench around."""

    at: int
    """Its place among what was done."""
    step: s.Step
    row: Row
    before: Snapshot
    after: Snapshot

    @property
    def refused(self) -> bool:
        """Whether it could not be done."""
        return "refused" in self.row

    @property
    def is_reading(self) -> bool:
        """Whether it is a reading that was made, at rest or not."""
        return isinstance(self.step, s.Read) and "shown" in self.row

    @property
    def settled(self) -> bool:
        """Whether it is a reading that came to rest."""
        return isinstance(self.step, s.Read) and self.row.get("settled") is True


def standing(done: Iterable[Done]) -> tuple[Answer, ...]:
    """The answers that stand; a later one takes the place of one of its kind on the same legs.

    A good pair and a trouble cannot both be: the later of the two stands.
    """
    stand: dict[object, Answer] = {}
    for each in done:
        if not isinstance(each.step, s.Say):
            continue
        answer = each.step.answer
        if answer is None or answer.kind == NONE:
            stand.clear()
        if answer is not None:
            stand.pop((NONE, ()), None)
            stand[answer.kind, answer.leg] = answer
    return tuple(stand.values())
