"""Which troubles are there at a moment, and until when: for those that come and go, or move.

One that is away keeps its place and its nodes, so that charge carries over when it comes back.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from line_model.troubles import Trouble
from line_model.troubles.base import Base, Walk


@dataclass(frozen=True, slots=True, kw_only=True)
class Away(Base):
    """A trouble that is not there now."""

    of: Trouble

    @property
    def line(self) -> str | None:
        """The tap that it is on; None: the route itself."""
        return self.of.line

    @property
    def spots_m(self) -> tuple[float, ...]:
        """Where nodes must stand, along its line."""
        return self.of.spots_m

    @property
    def needs(self) -> tuple[str, ...]:
        """Neighbours that must be in the circuit for it."""
        return self.of.needs

    def stamp(self, walk: Walk) -> None:
        """Put in what stands at its place meanwhile."""
        self.of.away(walk)


def present(
    troubles: Sequence[Trouble], seed: int, now_us: int, file: Sequence[Trouble] = ()
) -> tuple[Trouble | Away, ...]:
    """The troubles as they are at a moment.

    Args:
        troubles: those that nobody has mended.
        seed: fixes the patterns.
        now_us: the moment.
        file: all of them as they were written, if some are mended: patterns go by places in it.
    """
    return tuple(
        trouble.as_of(now_us)
        if trouble.when is None or trouble.when.there(seed, index, now_us)
        else Away(of=trouble)
        for index, trouble in _numbered(troubles, file)
    )


def changes_us(
    troubles: Sequence[Trouble], seed: int, now_us: int, file: Sequence[Trouble] = ()
) -> int | None:
    """When the first of them next comes, goes or moves, after a moment [us]; None if none does."""
    swings = (
        trouble.when.changes_us(seed, index, now_us)
        for index, trouble in _numbered(troubles, file)
        if trouble.when is not None
    )
    moves = (trouble.moves_us(now_us) for trouble in troubles)
    return min((*swings, *(at for at in moves if at is not None)), default=None)


def _numbered(
    troubles: Sequence[Trouble], file: Sequence[Trouble]
) -> Iterator[tuple[int, Trouble]]:
    """Each trouble with its place in the file."""
    written = file or troubles
    for trouble in troubles:
        yield written.index(trouble), trouble
