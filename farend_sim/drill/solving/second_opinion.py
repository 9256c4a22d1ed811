"""What the expert makes of a trainee's own readings: the next one to take, and what they say.

Law: it knows what the trainee saw, and no more; a reading that had not come to rest says nothing.
It doubts the record as the drill does, and knows troubles that are always there; where readings fit
none it names no next one.
"""

from collections.abc import Iterator
from functools import cached_property

from numpy.linalg import LinAlgError

from farend_sim.bench.steps import Keys
from farend_sim.drill.expert.choice import Choice
from farend_sim.drill.expert.expert import Expert, expert
from farend_sim.drill.expert.laws import tells
from farend_sim.drill.expert.looks import LEADS, Look, Setting, look_shown
from farend_sim.drill.expert.opinion import Opinion
from farend_sim.drill.solving.solve import asks_of, idle_of, what_next
from farend_sim.drill.work.story import Story
from farend_sim.unit.table import STATES, PairState, State


class SecondOpinion:
    """The expert over one attempt's shoulder."""

    def __init__(self, story: Story) -> None:
        self._story, self._drill = story, story.drill

    @cached_property
    def looks(self) -> tuple[Look, ...]:
        """The readings as the expert has them."""
        return tuple(self._looks())

    @cached_property
    def heard(self) -> bool | None:
        """Whether the unit ever answered; None where nobody has keyed anything."""
        if not any(isinstance(done.step, Keys) and not done.refused for done in self._story.done):
            return None
        sounds = (one for done in self._story.done for one in done.row.get("heard") or ())
        return any(one["what"] == "reply" for one in sounds)

    @cached_property
    def opinion(self) -> Opinion | None:
        """What the readings say; None where there is none that the expert can weigh."""
        laws = self._expert.forecast.meters
        if not any(tells(laws, look) for look in self.looks):
            return None
        try:
            return self._expert.opinion(self.looks, self.heard)
        except LinAlgError:  # readings of a pair that changes between them fit nothing
            return None

    def next(self) -> Setting | None:
        """The reading that would tell most now; None where it is pinned down, or none would."""
        if self.opinion is None:
            return None
        asks, idle = asks_of(self._drill), idle_of(self._drill)
        told = self.heard is not False
        best = what_next(self._expert, self.opinion, self.looks, told, asks, idle)
        return best.setting if isinstance(best, Choice) else None

    @cached_property
    def _expert(self) -> Expert:
        return expert(self._drill.situation, doubt=self._drill.lesson.doubt)

    def _looks(self) -> Iterator[Look]:
        laws, zeroed = self._expert.forecast.meters, set[str]()
        last = self._story.repairs[0].at if self._story.repairs else len(self._story.done)
        for done in self._story.done[:last]:
            if done.step.text == "zero" and done.before.meter is not None:
                zeroed.add(done.before.meter)
            reading = done.after.reading
            if done not in self._story.readings or reading is None or not reading.settled:
                continue
            at_hand = reading.meter in laws and reading.across in laws[reading.meter].hookups()
            state, lead = self._state(done.before.far.state), done.before.lead
            here = done.before.where == "near" and self._story.on_own_pair(done)
            if not at_hand or state is None or lead not in LEADS or not here:
                continue
            if self._story.behind_on(done):
                continue
            setting = Setting(
                meter=reading.meter,
                across=reading.across,
                state=state,
                lead=lead,
                zeroed=reading.meter in zeroed,
            )
            yield look_shown(setting, reading.shown, reading.value)

    def _state(self, state: State) -> PairState | None:
        """A state as the expert knows it: at attention the pair is as it is by itself."""
        if state is State.ATTENTIVE:
            return idle_of(self._drill)
        # a pair on which a tone sounds is not at rest
        return next((each for each in STATES if each == state.value != "tone"), None)
