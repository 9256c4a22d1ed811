"""Holds of a job as they are planned: which readings share one, and what a length of it costs."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from farend_sim.hold_lab.cost import Terms
from farend_sim.hold_lab.job.several import expected_resumed_s, expected_several_s
from farend_sim.hold_lab.scheme_times import Span
from farend_sim.hold_lab.timings.durations import Law


@dataclass(frozen=True, slots=True)
class OneHold:
    """Readings made in one and the same hold."""

    function: str
    names: tuple[str, ...]
    laws: tuple[Law, ...]
    terms: Terms
    span: Span
    resumes: bool = False
    """Whether what was done in one hold counts in the next; such work has its hold to itself."""

    def apart(self) -> Iterator["OneHold"]:
        """The same readings in a hold each."""
        for name, law in zip(self.names, self.laws, strict=True):
            yield replace(self, names=(name,), laws=(law,))

    def expected_s(self, hold_s: float) -> float:
        """Until all of them are made and the next command can be given [s]."""
        if self.resumes:
            return expected_resumed_s(self.laws[0], hold_s, self.terms)
        return expected_several_s(self.laws, hold_s, self.terms)


@dataclass(frozen=True, slots=True)
class Planned:
    """One hold of the job with the length that is best for it."""

    held: OneHold
    hold_s: float
    expected_s: float
    default_expected_s: float
    """With the scheme's own hold."""
