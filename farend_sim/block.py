"""The block at the near end: which pair ends at which post.

Law: pure, and no circuit in it; a pair is its name, the technician's own is OWN.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated

from annotated_types import Ge, Le

from line_model.beside import OWN
from line_model.plant import Plant

MOST_POSTS = 3600
"""As the largest cables have: common practice, no source."""
Post = Annotated[int, Ge(1)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Posts in a row, a pair of the same cable at each."""

    posts: Annotated[int, Ge(25), Le(MOST_POSTS)] = 25
    """As a group of 25 pairs has: common practice, no source."""
    pair: Post
    """The post that the pair ends at."""
    record: Post | None = None
    """The post that the record says; None: the true one."""

    @property
    def recorded(self) -> int:
        """The post that the record says."""
        return self.pair if self.record is None else self.record

    def at(self, post: int, plant: Plant) -> str:
        """The pair at a post: one that the plant does not name is called by its post's number."""
        if post == self.pair:
            return OWN
        named = (one.name for one in plant.neighbour if one.post == post)
        return next(named, str(post))

    def names(self, plant: Plant) -> Iterator[str]:
        """Every neighbour that ends here."""
        return (self.at(post, plant) for post in range(1, self.posts + 1) if post != self.pair)
