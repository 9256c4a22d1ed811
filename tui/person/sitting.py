"""One sitting at a bench: what a person does, and what the person has seen, heard and written.

Law 1: whatever a person does is a step, typed or not, so that screen and drills cannot differ.
Law 2: it knows no screen, and nothing of what only the far end knows.
"""

from collections import deque
from collections.abc import Mapping
from typing import Any

from farend_sim.bench.levels import ear_dbm
from farend_sim.bench.places_m import places_m
from farend_sim.bench.steps.transcript import Row, as_technician
from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError
from farend_sim.situation import Situation
from line_model.meters.cycle import Reading
from tui.person.came_of import came_of
from tui.person.entries import entry_of, is_number
from tui.person.hand import FreeHand, Hand
from tui.person.heard_list import HeardList
from tui.person.helper import Helper, after
from tui.person.logbook_file import LogbookFile

SLICE_US = 40_000
"""Time goes on in slices of a picture's time at live pace: a choice, no source."""
TRACE_US = 80_000
"""A point of the trace: the loudest of its slices [us]."""
_TRACE_KEEP = 400
_KEYS_KEPT = 64
_NO_METER = "No meter is clipped: choose one first (m)."


class Sitting:
    """A person at a bench."""

    def __init__(
        self, situation: Situation, logbook: LogbookFile, hand: Hand | None = None
    ) -> None:
        self.situation = situation
        self.hand = hand or FreeHand(situation)
        self.bench = self.hand.bench
        self.feet = False
        """Whether the person wants lengths in feet."""
        self.rows: list[Row] = []
        """What came of every step, a technician's rows; what follows is made from them alone."""
        self.helper = Helper()
        """How the helper at the far end left the unit."""
        self.keyed: tuple[tuple[int, str], ...] = ()
        """When each key was pressed, and which."""
        self.entries: tuple[Mapping[str, Any], ...] = ()
        """What the logbook has of this work."""
        self.heard = HeardList()
        self.trace: deque[float] = deque(maxlen=_TRACE_KEEP)
        self.sounded: tuple[int, str] | None = None
        """When a key was last sounding, and which."""
        self.said = ""
        """The answer to what was asked last, if there was something to say."""
        self.logbook = logbook
        self._loudest_dbm: list[float] = []
        for done in self.attempt.done if self.attempt else ():
            self._take(as_technician(done.row), entry_of(done.row, self.rows))
        self._listen(0)

    @property
    def attempt(self) -> Attempt | None:
        """The attempt at a drill; None at a free bench."""
        return self.hand if isinstance(self.hand, Attempt) else None

    @property
    def budget_s(self) -> float | None:
        """How long a drill may take; None at a free bench [s]."""
        return self.attempt.drill.lesson.budget_s if self.attempt else None

    # -- steps ---------------------------------------------------------------------------------

    def do(self, text: str) -> bool:
        """Do a step; what came of it is said. Tells whether it was done, or written."""
        row = self._begun(text)
        return row is not None and self._came(row)

    def typed(self, text: str) -> str:
        """Do a step as somebody typed it; tells what is wrong with the words, if anything."""
        row = self._begun(text)
        if row is None:
            return self.said
        self._came(row)
        return ""

    def _begun(self, text: str) -> Row | None:
        """Begin a step; says why it is none."""
        try:
            return self.hand.begin(text)
        except BadFileError as error:
            self.said = str(error).replace("step:1: ", "")
            return None

    def _came(self, row: Row) -> bool:
        """Say what came of a step; what it puts into the logbook is on disk before it is shown."""
        self.said = came_of(row)
        entry = entry_of(row, self.rows)
        if entry is not None:
            failed = self.logbook.append({"scenario": self.situation.path.stem, **entry})
            if failed:
                self.said = f"NOT WRITTEN to the logbook: {failed}."
                return False
        self._take(row, entry)
        self._listen(self.bench.now_us)
        return "refused" not in row

    def _take(self, row: Row, entry: Mapping[str, Any] | None) -> None:
        """Take in what came of a step, now or before the person sat down."""
        self.rows.append(row)
        if entry is not None:
            self.entries = (*self.entries, entry)
        if "refused" in row:
            return
        self.helper = after(self.helper, row["step"])
        verb, *words = row["step"].split()
        if verb == "keys":
            pressed = ((round(row["start_s"] * 1e6), key) for key in words[0])
            self.keyed = (*self.keyed, *pressed)[-_KEYS_KEPT:]

    # -- time ----------------------------------------------------------------------------------

    def advance(self, by_us: int) -> None:
        """Let time pass, slice by slice, with an ear on the pair; none for what is handed in."""
        if self.attempt is not None and self.attempt.handed_in:
            return
        start_us = self.bench.now_us
        until_us = start_us + by_us
        while self.bench.now_us < until_us:
            ahead_us = SLICE_US - self.bench.now_us % SLICE_US
            by_us = min(until_us - self.bench.now_us, ahead_us)
            self.rows += self.hand.advance(by_us)
            self._trace()
        if until_us > start_us:
            self._listen(start_us)

    def _listen(self, start_us: int) -> None:
        self.heard.take(self.bench.hears(start_us, "screen"), self.bench.now_us / 1e6)

    def _trace(self) -> None:
        if key := self.bench.snapshot().key:
            self.sounded = self.bench.now_us, key
        self._loudest_dbm.append(ear_dbm(self.bench))
        if self.bench.now_us % TRACE_US == 0:
            self.trace.append(max(self._loudest_dbm))
            self._loudest_dbm = []

    # -- the near end --------------------------------------------------------------------------

    def press(self, key: str) -> None:
        """Press a key of the keypad."""
        self.do(f"keys {key}")

    def clip(self, name: str | None, across: str) -> None:
        """Clip a meter across two terminals; without a name, take it off."""
        self.do("meter off" if name is None else f"meter {name} {across}")

    def clip_across(self, across: str) -> None:
        """Clip the meter that is on the pair across other terminals."""
        meter = self.bench.snapshot().meter
        if meter is None:
            self.said = _NO_METER
        else:
            self.clip(meter, across)

    def read(self) -> None:
        """Press the meter's button."""
        snapshot = self.bench.snapshot()
        if snapshot.meter is None:
            self.said = _NO_METER
        elif snapshot.stage_ends_us is not None:
            self.said = "The meter is at it; wait until its cycle is over."
        else:
            self.do("read")

    def zero(self) -> None:
        """Touch the leads together."""
        if self.bench.meter is None:
            self.said = _NO_METER
        elif self.do("zero"):
            self.said = "Leads touched together: they leave later readings."

    def lift(self) -> None:
        """Lift what is behind the near end, or put it back."""
        if self.bench.snapshot().lifted:
            if self.do("restore"):
                self.said = "What is behind the near end is back on the pair."
        elif self.do("lift"):
            self.said = "What is behind the near end is lifted."

    @property
    def behind(self) -> bool:
        """Whether anything is behind the near end, lifted or not."""
        return self.situation.scenario.behind.equipment != "none"

    @property
    def has_places(self) -> bool:
        """Whether there is anywhere else to go than the two ends."""
        return bool(self.situation.scenario.plant.access)

    @property
    def has_block(self) -> bool:
        """Whether there is a block at the near end."""
        return self.situation.scenario.block is not None

    # -- the logbook ---------------------------------------------------------------------------

    def write(self) -> None:
        """Write the reading on the display into the logbook."""
        snapshot = self.bench.snapshot()
        reading = snapshot.held
        if reading is None or snapshot.read_us is None:
            self.said = "There is no reading on the display to write down."
        elif any("shown" in one and one["t_s"] == snapshot.read_us / 1e6 for one in self.entries):
            self.said = "That reading is in the logbook already."
        else:
            self.do("log")

    def note(self, text: str) -> bool:
        """Write a note, be it a step any more or not; tells whether it is written."""
        text = " ".join(text.split())
        if not text:
            return True
        written = {"start_s": self.bench.now_us / 1e6, "t_s": self.bench.now_us / 1e6, "note": text}
        return self._came(self._begun(f"note {text}") or {"step": f"note {text}", **written})

    def places_m(self, reading: Reading) -> dict[str, float]:
        """What a display that stands still comes to on the record [m]."""
        if not is_number(reading.shown) or self.bench.meter is None:
            return {}
        return {k: m for k, m in places_m(reading, self.bench).items() if m is not None}
