"""All acts of the screen in front, found by a word of what they do: the palette's own supply.

Law: it is made from the tables; an act that has no row there cannot be found here.
"""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, Protocol, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider

from tui.keymap import Group

Offer = tuple[str, str, Callable[[], Any]]
"""What it is called, a line about it, and what does it."""


class Offers(Protocol):
    """An app that says what may be asked for now."""

    def offers(self) -> Iterator[Offer]:
        """All that may be asked for now."""


def acts_of(groups: tuple[Group, ...], act: Callable[[str], Any]) -> Iterator[Offer]:
    """The acts of a table."""
    for group in groups:
        for each in group.acts:
            if each.name != "palette":
                yield f"{each.label}  ({each.mark})", each.about, partial(act, each.name)


class Acts(Provider):
    """What the palette finds."""

    async def discover(self) -> Hits:
        for title, about, do in self._offers():
            yield DiscoveryHit(title, do, help=about)

    async def search(self, query: str) -> Hits:
        matcher = self.matcher(query)
        for title, about, do in self._offers():
            score = max(matcher.match(title), matcher.match(about))
            if score > 0:
                yield Hit(score, matcher.highlight(title), do, help=about)

    def _offers(self) -> Iterator[Offer]:
        return cast(Offers, self.app).offers()
