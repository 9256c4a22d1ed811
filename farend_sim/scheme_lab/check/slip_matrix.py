"""Every single slip of the finger, at every key of every command, and what the unit makes of it.

Law 1: a slip is safe when the unit does what was meant, a part of it, or nothing; and when whatever
is keyed soundly afterwards means what it says.
Law 2: all slips of all words are played; nothing is drawn by lot.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

from farend_sim.scheme_lab.check.automaton import Place
from farend_sim.scheme_lab.check.model import Model, Moment
from farend_sim.scheme_lab.check.words import Did, Played, Word, begin, play, word, words
from farend_sim.unit.table import HOLDS, State

KINDS = ("wrong", "missing", "doubled", "swapped", "extra")
OUTCOMES = ("as meant", "partly", "nothing", "refused", "something else", "misreads the next")
HARM = ("something else", "misreads the next")
MOST_VALUES = 1000
"""So many arguments are played from idle, all there are of three digits."""
_IDLE = Moment(State.IDLE, Place())


@dataclass(frozen=True, slots=True)
class Slip:
    """One slip that does harm."""

    kind: str
    start: State
    meant: Word
    keyed: str
    outcome: str
    did: tuple[Did, ...]
    sequel: str = ""
    """What was keyed soundly afterwards, where that is what is misread."""


@dataclass(slots=True)
class Matrix:
    """How many slips of each kind come to what, for each command meant."""

    count: Counter[tuple[int, str, str]] = field(default_factory=Counter)
    """By command, kind and outcome."""
    instead: Counter[tuple[int, int]] = field(default_factory=Counter)
    """How many slips made one command into another, or into itself with another argument."""
    harm: dict[tuple[int, str, str, State], Slip] = field(default_factory=dict)
    """The first of each sort: by command, kind, outcome and state."""
    slips: int = 0

    @property
    def harmful(self) -> int:
        return sum(n for (_, _, outcome), n in self.count.items() if outcome in HARM)


def slipped(keys: str, pad: str) -> Iterator[tuple[str, int, str]]:
    """Each slip of a word once: its kind, how many keys are still right, and what is keyed."""
    for at, key in enumerate(keys):
        for other in pad:
            if other != key:
                yield "wrong", at, keys[:at] + other + keys[at + 1 :]
        if not at or keys[at - 1] != key:
            yield "missing", at, keys[:at] + keys[at + 1 :]
            yield "doubled", at, keys[:at] + key + keys[at:]
        if at and keys[at - 1] != key:
            yield "swapped", at - 1, keys[: at - 1] + key + keys[at - 1] + keys[at + 1 :]
    for at in range(len(keys) + 1):
        for other in pad:
            # Beside its like it would be a doubled key.
            if other not in (keys[at - 1 : at], keys[at : at + 1]):
                yield "extra", at, keys[:at] + other + keys[at:]


def matrix(model: Model, most_values: int = MOST_VALUES) -> Matrix:
    """Play them all: from idle with every argument, from holds and after commands with some.

    Args:
        model: scheme and unit, with what is deaf.
        most_values: how many arguments from idle, evenly spread where there are more.
    """
    made = Matrix()
    counter = _Counter(made, model)
    for meant in words(model.scheme, most_values):
        counter.count(_IDLE, model.scheme.knock, meant)
    for state in HOLDS:
        if state not in model.deaf:
            for meant in words(model.scheme, 5):
                counter.count(Moment(state, Place()), model.scheme.knock, meant)
    attentive = Moment(State.ATTENTIVE, model.automaton.opened(Place()))
    for first, second in _sessions(model):
        counter.count(attentive, "", Word(first.keys + second.keys, second.did))
    return made


def _sessions(model: Model) -> Iterator[tuple[Word, Word]]:
    """Two commands in one attention: a key lost or doubled between them may weld them."""
    for first in words(model.scheme, 2):
        if model.scheme.commands[first.did.command].keeps_attention:
            for second in words(model.scheme, 2):
                yield first, second


class _Counter:
    """Plays the slips of a word and enters them."""

    def __init__(self, made: Matrix, model: Model) -> None:
        self._made = made
        self._model = model
        release = model.scheme.of("release")
        self._release = word(model.scheme, model.scheme.commands.index(release))
        self._sequel = model.scheme.knock + self._release.keys
        self._sound: dict[int, bool] = {}

    def count(self, start: Moment, knock: str, meant: Word) -> None:
        """Enter all slips of a word; a word that is not taken here is another finding's."""
        keys = knock + meant.keys
        begun = [begin(self._model, start)]
        for n in range(len(keys)):
            begun.append(play(self._model, begun[n], keys[: n + 1], n))
        sound = begun[-1].did
        if meant.did not in sound:
            return
        for kind, right, keyed in slipped(keys, self._model.keys):
            got = play(self._model, begun[right], keyed, right)
            result = outcome(got, sound)
            if result not in HARM and not self._reads_on(got.end):
                result = "misreads the next"
            self._made.slips += 1
            self._made.count[meant.did.command, kind, result] += 1
            if result in HARM:
                after = "" if result == HARM[0] else self._sequel
                told = Word(keys, meant.did)
                self._harmed(Slip(kind, start.state, told, keyed, result, got.did, after))

    def _harmed(self, slip: Slip) -> None:
        command = slip.meant.did.command
        for did in slip.did if slip.outcome == HARM[0] else ():
            if did != slip.meant.did:
                self._made.instead[command, did.command] += 1
        self._made.harm.setdefault((command, slip.kind, slip.outcome, slip.start), slip)

    def _reads_on(self, after: int) -> bool:
        """Whether a knock and a release that follow do nothing but let go, or nothing at all."""
        if after not in self._sound:
            got = play(self._model, Played((), False, after), self._sequel)
            self._sound[after] = all(did == self._release.did for did in got.did)
        return self._sound[after]


def outcome(got: Played, meant: tuple[Did, ...]) -> str:
    """What some keys came to, beside what was meant."""
    if got.did == meant:
        return "as meant"
    rest = iter(meant)
    if not all(did in rest for did in got.did):
        return "something else"
    if got.did:
        return "partly"
    return "refused" if got.refused else "nothing"
