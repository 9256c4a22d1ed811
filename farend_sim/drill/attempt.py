"""One attempt at a drill: a bench, and every act at it written down before it acts.

Law: an attempt is its drill, its seed and what was done when; played again it is the same to the
byte. So whatever ends a sitting, the next goes on where it was.
A drill on a screen and one of typed lines differ in one thing: a typed step lasts until it is over
(`do`), while on a screen time goes on meanwhile (`begin`, `advance`).
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.answer import Answer
from farend_sim.bench.bench import Bench
from farend_sim.bench.snapshot import Snapshot
from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.transcript import Row, as_technician, begin_one, play_one, reading_row
from farend_sim.drill.done import Done, standing
from farend_sim.drill.drill import Drill
from farend_sim.drill.files import drill_of
from farend_sim.drill.journal import Entry, Journal, read_journal
from farend_sim.drill.seal import BrokenSealError, deciphered, enciphered
from farend_sim.errors import BadFileError
from farend_sim.scenario import Scenario


class Attempt:
    """A person's work at one drill."""

    def __init__(self, drill: Drill, journal: Journal | None = None) -> None:
        """Begin at time 0; without a journal nothing is kept."""
        self.drill = drill
        self.bench = Bench(drill.situation)
        self.about: Mapping[str, Any] = {}
        """What the journal's head says: who, and when it was begun."""
        self.done: list[Done] = []
        self.entries: list[Entry] = []
        """The journal's lines after its head."""
        self.hints = 0
        self._hinted_at: int | None = None
        """How much had been done when the last hint was asked for."""
        self.handed_in = False
        self._journal = journal
        self._reading: tuple[s.Step, Snapshot] | None = None

    # -- begin, and go on ----------------------------------------------------------------------

    @classmethod
    def start(
        cls,
        drill: Drill,
        path: Path | None = None,
        *,
        seed: int | None = None,
        about: Mapping[str, Any] | None = None,
    ) -> "Attempt":
        """Begin an attempt and its journal; another seed than the drill's is other instruments.

        Raises:
            BadFileError: there is an attempt at that path already, or none can be written.
        """
        drill = drill if seed is None else reseeded(drill, seed)
        head = {
            "journal": 1,
            "drill": drill.name,
            "seed": drill.situation.scenario.seed,
            **(about or {}),
            "sealed": enciphered(drill.sealed),
        }
        attempt = cls(drill, None if path is None else Journal.create(path, head))
        attempt.about = head
        return attempt

    @classmethod
    def resume(cls, path: Path) -> "Attempt":
        """Go on with an attempt.

        Raises:
            BadFileError: the path is no attempt's journal, or another process has it open.
        """
        journal, entries = Journal.reopen(path)
        attempt = replayed(entries, str(path))
        attempt._journal = journal
        return attempt

    @classmethod
    def read(cls, path: Path) -> "Attempt":
        """An attempt as its journal tells it; nothing more can be kept."""
        return replayed(read_journal(path), str(path))

    def close(self) -> None:
        """Let go of the journal, and keep how late it is."""
        if self._journal is not None:
            self._write({})
            self._journal.close()
            self._journal = None

    # -- what a person does --------------------------------------------------------------------

    def do(self, text: str) -> Row:
        """Do a step and let time pass until it is over; returns a technician's row.

        Raises:
            BadFileError: the text is no step.
        """
        step = self._parsed(text)
        self._write({"step": text})
        return self._do(step)

    def begin(self, text: str) -> Row:
        """Do a step while time goes on: keys sound and a reading is made as `advance` says."""
        step = self._parsed(text)
        self._write({"step": text, "live": True})
        return self._begin(step)

    def advance(self, by_us: int) -> list[Row]:
        """Let time pass; returns the reading that was finished meanwhile."""
        rows = self._advance_to(self.bench.now_us + by_us)
        if rows:
            self._write({})  # what was seen on a display stays seen
        return rows

    def ask_hint(self) -> int:
        """Count a hint as asked for; returns how many were.

        Who asks again with nothing done meanwhile is told the same again, for nothing.
        """
        if self._hinted_at != len(self.done):
            self._write({"asked": "hint"})
            self.hints += 1
            self._hinted_at = len(self.done)
        return self.hints

    def hand_in(self) -> None:
        """Say that the work is done: nothing more is taken."""
        if not self.handed_in:
            self._write({"handed_in": True})
            self.handed_in = True

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
                other._again(entry)
            both = min(len(self.done), len(other.done))
            yield from zip(self.done[compared:both], other.done[compared:both], strict=True)
            compared = max(compared, both)

    # ------------------------------------------------------------------------------------------

    def _parsed(self, text: str) -> s.Step:
        if self.handed_in:
            raise BadFileError("found a step, expected none: the attempt is handed in")
        line = len(self.done) + 1
        (step,) = parse(text, "step", self.drill.meters)
        if isinstance(step, s.UnitFault):
            raise BadFileError("step: found a fault put into the unit, which is not for a trainee")
        return replace(step, line=line)

    def _write(self, entry: Entry) -> None:
        entry = {"at_us": self.bench.now_us, **entry}
        if self._journal is not None:
            self._journal.add(entry)
        self.entries.append(entry)

    def _do(self, step: s.Step) -> Row:
        before = self.bench.snapshot()
        return self._came(step, play_one(self.bench, step), before)

    def _begin(self, step: s.Step) -> Row:
        if self._cycle_ends_us is None:
            self._reading = None  # it was given up with its meter
        before = self.bench.snapshot()
        row = begin_one(self.bench, step)
        if isinstance(step, s.Read) and "refused" not in row:
            self._reading = step, before
            return as_technician(row)
        return self._came(step, row, before)

    def _came(self, step: s.Step, row: Row, before: Snapshot) -> Row:
        self.done.append(Done(step=step, row=row, before=before, after=self.bench.snapshot()))
        return as_technician(row)

    def _advance_to(self, until_us: int) -> list[Row]:
        rows: list[Row] = []
        while self._reading is not None and (ends_us := self._cycle_ends_us) is not None:
            if ends_us > until_us:
                break
            self.bench.advance_to(ends_us)
            if self._cycle_ends_us is None:
                rows += self._reading_is_over()
        self.bench.advance_to(until_us)
        return rows

    @property
    def _cycle_ends_us(self) -> int | None:
        """When the meter's stage ends; None at rest."""
        return None if self.bench.meter is None else self.bench.meter.deadline_us

    def _reading_is_over(self) -> list[Row]:
        assert self._reading is not None
        step, before = self._reading
        self._reading = None
        if self.bench.snapshot().reading is None:
            return []
        return [self._came(step, reading_row(self.bench, step, before.now_us), before)]

    def _again(self, entry: Entry) -> None:
        """Do again what an entry says."""
        self.entries.append(entry)
        if entry["at_us"] > self.bench.now_us:
            self._advance_to(entry["at_us"])
        if "step" in entry:
            step = self._parsed(entry["step"])
            self._begin(step) if entry.get("live") else self._do(step)
        if entry.get("asked") == "hint":
            self.hints += 1
            self._hinted_at = len(self.done)
        self.handed_in = self.handed_in or bool(entry.get("handed_in"))


def reseeded(drill: Drill, seed: int) -> Drill:
    """A drill with other instruments: the same trouble, another seed."""
    scenario = replace(drill.situation.scenario, seed=seed)
    return replace(drill, situation=replace(drill.situation, scenario=scenario))


def replayed(entries: list[Entry], filename: str) -> Attempt:
    """The attempt that a journal's entries tell of.

    Raises:
        BadFileError: they do not tell of one.
    """
    head, *rest = entries
    try:
        drill = reseeded(drill_of(deciphered(head["sealed"]), head["drill"]), head["seed"])
    except (BrokenSealError, KeyError, TypeError):
        raise BadFileError(f"{filename}:1: found a broken head, expected a sealed drill") from None
    attempt = Attempt(drill)
    attempt.about = head
    for number, entry in enumerate(rest, start=2):
        try:
            attempt._again(entry)
        except (BadFileError, KeyError, TypeError) as error:
            raise BadFileError(f"{filename}:{number}: found {error}, expected a step") from None
    return attempt
