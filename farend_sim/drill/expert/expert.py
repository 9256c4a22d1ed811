"""The expert: ranks what may be wrong by what was read, and says which reading would tell most.

Law: it knows readings, the record and the papers of instruments and unit; never the truth.
"""

from collections.abc import Sequence
from dataclasses import replace

from farend_sim.drill.expert.axes import axes
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.forecast import Forecast
from farend_sim.drill.expert.heard import Ear
from farend_sim.drill.expert.hypothesis import suspects
from farend_sim.drill.expert.laws import laws
from farend_sim.drill.expert.likelihood import Weighing, weigh
from farend_sim.drill.expert.looks import Look
from farend_sim.drill.expert.misfit import misfit
from farend_sim.drill.expert.opinion import Opinion, ranking
from farend_sim.drill.expert.readings import readings
from farend_sim.drill.expert.records import records
from farend_sim.drill.expert.sight import Sight
from farend_sim.situation import Situation
from line_model.plant import Plant


class Expert:
    """Someone who knows a record, a unit and some meters, and has not been told the truth."""

    def __init__(self, records: Sequence[Weighing], ear: Ear) -> None:
        """Take every record that may be the true one, the given one first."""
        self._records, self._ear = tuple(records), ear

    def opinion(self, looks: Sequence[Look], heard: bool | None = None) -> Opinion:
        """Rank every suspect by some readings, and by whether a knock was answered."""
        of = readings(self.forecast, looks)
        weighed = weigh(self._records, of)
        if heard is not None:
            weighed = self._ear.heard(weighed, heard)
        return Opinion(ranking(weighed), misfit(weighed, of.asked), self._records[0].length_m)

    @property
    def forecast(self) -> Forecast:
        """Of the record as it is given."""
        return self._records[0].forecast


def expert(
    situation: Situation,
    record: Plant | None = None,
    doubt: Doubt | None = None,
    counts: bool = True,
) -> Expert:
    """An expert for a situation: of its trouble, seed and true plant nothing is taken.

    Args:
        situation: gives the unit, the meters and what is beyond the unit.
        record: what the plant is said to be; the situation's own record if left out.
        doubt: how far the record may be off.
        counts: whether displays may be off by the counts in their stated accuracy. A bench's meters
            at rest are not: they round.
    """
    plant = situation.scenario.recorded if record is None else record
    of, unit = doubt or Doubt(), situation.unit.electrical
    known = situation.meters
    if not counts:
        known = {name: replace(one, accuracy_counts=0) for name, one in known.items()}
    meters = laws(known, unit)
    each = []
    for one in records(plant, of):
        sight = Sight(one.plant, unit, situation.scenario.beyond, axes(one, of))
        each.append(Weighing(Forecast(sight, meters), suspects(), one))
    return Expert(each, Ear(situation, plant))
