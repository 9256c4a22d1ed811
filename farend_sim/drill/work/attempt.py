"""One attempt at a drill: a bench, and every act at it written down before it acts.

Law: an attempt is its drill, its seed and what was done when; played again it is the same to the
byte. So whatever ends a sitting, the next goes on where it was.
A drill on a screen and one of typed lines differ in one thing: a typed step lasts until it is over
(`do`), while on a screen time goes on meanwhile (`begin`, `advance`).
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.answer import Answer
from farend_sim.bench.bench import Bench
from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.grammar import parse_for
from farend_sim.bench.steps.live import Came, LiveBench, is_to_come
from farend_sim.bench.steps.transcript import Row, as_technician
from farend_sim.drill.drill import Drill
from farend_sim.drill.work.done import Done, standing
from farend_sim.drill.work.journal import Entry, Journal
from farend_sim.errors import BadFileError
from farend_sim.scenario import Scenario


class Attempt:
    """A person's work at one drill."""

    def __init__(self, drill: Drill, about: Mapping[str, Any] | None = None) -> None:
        """Begin at time 0; what is done is in no file until `keep` says in which."""
        self.drill = drill
        self.bench = Bench(drill.situation)
        self._live = LiveBench(self.bench)
        self.about: Mapping[str, Any] = about or {}
        """What the journal's head says: who, and when it was begun."""
        self.done: list[Done] = []
        self.entries: list[Entry] = []
        """The journal's lines after its head."""
        self.hints = 0
        self._hinted_at: int | None = None
        """How much had been done when the last hint was asked for."""
        self.handed_in = False
        self._journal: Journal | None = None

    def keep(self, journal: Journal) -> None:
        """Write down in a journal what is done from now on."""
        self._journal = journal

    def close(self) -> None:
        """Let go of the journal, and keep how late it is."""
        if self._journal is not None:
            self._enter({})
            self._journal.close()
            self._journal = None

    # -- what a person does --------------------------------------------------------------------

    def do(self, text: str) -> Row:
        """Do a step and let time pass until it is over; returns a technician's row.

        Raises:
            BadFileError: the text is no step.
        """
        return self._enter({"step": text})

    def begin(self, text: str) -> Row:
        """Do a step while time goes on: keys sound and a reading is made as `advance` says."""
        return self._enter({"step": text, "live": True})

    def advance(self, by_us: int) -> list[Row]:
        """Let time pass; returns the reading that was finished meanwhile."""
        rows = self._advance_to(self.bench.now_us + by_us)
        if rows:
            self._enter({})  # what was seen on a display stays seen
        return rows

    def ask_hint(self) -> int:
        """Count a hint as asked for; returns how many were.

        Who asks again with nothing done meanwhile is told the same again, for nothing.
        """
        if not self.hint_is_free:
            self._enter({"asked": "hint"})
        return self.hints

    @property
    def hint_is_free(self) -> bool:
        """Whether a hint is not counted now: the same again, or nothing more is marked."""
        return self.handed_in or self._hinted_at == len(self.done)

    def hand_in(self) -> None:
        """Say that the work is done: nothing more is taken."""
        if not self.handed_in:
            self._enter({"handed_in": True})

    # -- what is known of it -------------------------------------------------------------------

    @property
    def snapshot(self) -> Snapshot:
        """The bench now."""
        return self.bench.snapshot()

    @property
    def answers(self) -> tuple[Answer, ...]:
        """What stands answered; a later answer takes the place of one on the same legs."""
        return standing(self.done)

    def in_world(self, scenario: Scenario) -> Iterator[tuple[Done, Done]]:
        """The same acts at the same times where the plant is another: each as here and as there."""
        situation = replace(self.drill.situation, scenario=scenario)
        other = Attempt(replace(self.drill, situation=situation))
        compared = 0
        for entry in self.entries:
            if not entry.get("handed_in"):
                other.again(entry)
            both = min(len(self.done), len(other.done))
            yield from zip(self.done[compared:both], other.done[compared:both], strict=True)
            compared = max(compared, both)

    # ------------------------------------------------------------------------------------------

    def _enter(self, entry: Entry) -> Row:
        """Write down what is done now, and do it; what is no step is not written down."""
        entry = {"at_us": self.bench.now_us, **entry}
        step = self._step_of(entry)
        if self._journal is not None:
            self._journal.add(entry)
        return self._act(entry, step)

    def again(self, entry: Entry) -> None:
        """Do again what an entry of a journal says, at its time.

        Raises:
            BadFileError: it is no step.
        """
        if entry["at_us"] > self.bench.now_us:
            self._advance_to(entry["at_us"])
        self._act(entry, self._step_of(entry))

    def _step_of(self, entry: Entry) -> s.Step | None:
        if "step" not in entry:
            return None
        if self.handed_in:
            raise BadFileError("found a step, expected none: the attempt is handed in")
        (step,) = parse_for(self.drill.situation, entry["step"], "step")
        if isinstance(step, s.UnitFault):
            raise BadFileError("step: found a fault put into the unit, which is not for a trainee")
        return replace(step, line=len(self.done) + 1)

    def _act(self, entry: Entry, step: s.Step | None) -> Row:
        self._advance_to(self.bench.now_us)  # a reading may be over since the last step
        self.entries.append(entry)
        if entry.get("asked") == "hint" and not self.handed_in:
            self.hints += 1
            self._hinted_at = len(self.done)
        self.handed_in = self.handed_in or bool(entry.get("handed_in"))
        if step is None:
            return {}
        came = self._live.begin(step) if entry.get("live") else self._live.do(step)
        return as_technician(came.row) if is_to_come(came) else self._came(came)

    def _came(self, came: Came) -> Row:
        done = Done(
            at=len(self.done), step=came.step, row=came.row, before=came.before, after=came.after
        )
        self.done.append(done)
        return as_technician(came.row)

    def _advance_to(self, until_us: int) -> list[Row]:
        if self.handed_in:  # it stands as it was: no more time passes for it
            return []
        return [self._came(came) for came in self._live.advance_to(until_us)]
