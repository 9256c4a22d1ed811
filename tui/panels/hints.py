"""The last line of a screen: keys and what they do, from the table."""

from collections.abc import Iterable

from textual.content import Content

from tui.keymap import Group


def hints(groups: Iterable[Group]) -> Content:
    """All acts of a small table in one line."""
    acts = (act for group in groups for act in group.acts)
    return Content(" ").join(
        [Content.assemble((f" {act.mark} ", "bold $accent"), act.label) for act in acts]
    )
