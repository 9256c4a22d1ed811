"""An attempt as the rubric reads it: what was read when, across what, and how the bench stood."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

from farend_sim.bench import steps as s
from farend_sim.bench.answer import NONE, UNIT, Answer
from farend_sim.bench.snapshot import Snapshot
from farend_sim.drill.drill import Drill
from farend_sim.drill.truth import in_order
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.done import Done
from farend_sim.drill.work.evidence import (
    Evidence,
    evidence,
    evidence_of_none,
    evidence_of_unit,
)
from farend_sim.unit.table import State
from line_model.meters.profile import MeterProfile

THREE_PAIRS = (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath"))
RESTING = (State.IDLE, State.ASLEEP)


@dataclass(frozen=True, slots=True)
class Matched:
    """One trouble, what was answered of it, and what the readings could show of it."""

    truth: Answer
    answer: Answer | None
    evidence: Evidence
    missed: tuple[str, ...] = ()
    """Of a good pair: usual troubles that the readings would not have shown."""


class Story:
    """Facts of one attempt, each worked out once."""

    def __init__(self, attempt: Attempt) -> None:
        self.attempt = attempt
        self.done: list[Done] = attempt.done
        self.drill: Drill = attempt.drill
        self.scenario = attempt.drill.situation.scenario
        self.readings = [each for each in self.done if each.is_reading]

    # -- meters --------------------------------------------------------------------------------

    def meter(self, done: Done) -> MeterProfile:
        """The meter that a reading was made with."""
        return self.drill.situation.meters[done.row["meter"]]

    def kind(self, done: Done) -> str:
        """Its kind."""
        return self.meter(done).kind

    @property
    def kinds(self) -> frozenset[str]:
        """The kinds of meters at hand."""
        return frozenset(meter.kind for meter in self.drill.situation.meters.values())

    @cached_property
    def driving(self) -> list[Done]:
        """The readings that put a voltage of their own on the pair."""
        return [each for each in self.readings if self.meter(each).DRIVES]

    @property
    def first_driven(self) -> int:
        """When the pair was first driven by a meter: its place among what was done."""
        return self.driving[0].at if self.driving else len(self.done)

    def looked_for_volts(self, kind: str) -> set[tuple[str, ...]]:
        """Across which pairs of terminals such a meter was read before the pair was driven."""
        before = [
            each
            for each in self.readings
            if each.at < self.first_driven and self.kind(each) == kind
            if not self.behind_on(each) and self.on_own_pair(each)
        ]
        return {tuple(sorted(each.row["across"].split("-"))) for each in before}

    def behind_on(self, done: Done) -> bool:
        """Whether what is behind the near end was on the pair when a thing was done."""
        return self.has_behind and not done.before.lifted

    def on_own_pair(self, done: Done) -> bool:
        """Whether the leads were on the ticket's pair when a thing was done."""
        if (block := self.scenario.block) is None:
            return True
        before = (each for each in self.done[: done.at] if not each.refused)
        posts = [each.step.post for each in before if isinstance(each.step, s.Clip)]
        return bool(posts) and posts[-1] == block.pair

    @property
    def has_behind(self) -> bool:
        """Whether anything is behind the near end."""
        return self.scenario.behind.equipment != "none"

    # -- the end -------------------------------------------------------------------------------

    @property
    def last(self) -> Snapshot:
        """The bench as it was left."""
        return self.attempt.snapshot

    @property
    def took_s(self) -> float:
        """How long it took, of the bench's own time."""
        return self.last.now_us / 1e6

    @cached_property
    def logged(self) -> set[Done]:
        """The readings that were written into the logbook."""
        written: set[Done] = set()
        last = None
        for each in self.done:
            if each.is_reading:
                last = each
            elif isinstance(each.step, s.Log) and not each.refused and last is not None:
                written.add(last)
        return written

    @cached_property
    def repairs(self) -> list[Done]:
        """When something was found and made good."""
        repairs = (each for each in self.done if isinstance(each.step, s.Repair))
        return [each for each in repairs if "made good" in str(each.row.get("found"))]

    # -- the answer ----------------------------------------------------------------------------

    @cached_property
    def matched(self) -> tuple[Matched, ...]:
        """Each trouble with the answer that fits it best; no answer serves twice."""
        left = list(self.attempt.answers)
        found = []
        for truth in self.drill.truth:
            alike = sorted((one for one in left if one.kind == truth.kind), key=_fit(truth))
            answer = alike[0] if alike else None
            if answer is not None:
                left.remove(answer)
            found.append(self._matched(truth, answer))
        return tuple(found)

    def _matched(self, truth: Answer, answer: Answer | None) -> Matched:
        if answer is None:
            return Matched(truth, answer, Evidence(frozenset()))
        if truth.kind == NONE:
            missed = evidence_of_none(self.attempt)
            return Matched(truth, answer, Evidence(frozenset({"kind"})), missed)
        if truth.kind == UNIT:
            told = evidence_of_unit(self.attempt)
            return Matched(truth, answer, Evidence(frozenset({"kind"} if told else ()), told))
        return Matched(
            truth, answer, evidence(self.attempt, self._index(truth), self.drill.within_m)
        )

    def _index(self, truth: Answer) -> int:
        """The number of the scenario's trouble that an answer tells of."""
        return in_order(self.scenario)[self.drill.truth.index(truth)]


def _fit(truth: Answer) -> Callable[[Answer], tuple[bool, float]]:
    """How badly an answer fits a trouble of its kind."""
    return lambda answer: (
        answer.leg != truth.leg,
        abs((answer.at_m or 0.0) - (truth.at_m or 0.0)),
    )
