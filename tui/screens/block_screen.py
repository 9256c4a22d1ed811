"""The block: a list of posts; leads are clipped, the probe held, legs pinched at the marked one."""

from textual import on
from textual.app import ComposeResult
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from tui.keymap import BLOCK
from tui.panels.asked import Asked
from tui.panels.clock import Clock
from tui.panels.said import Said
from tui.screens.room import Room
from tui.views.view import ClockView
from tui.views.view_block import PostView


class BlockScreen(Room, groups=BLOCK):
    """Time goes on; each act takes its own."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self._clock = Clock("Block", title)
        self._list = OptionList(id="posts", markup=False)
        self._said = Said(id="said")
        self._posts: tuple[PostView, ...] = ()

    def compose(self) -> ComposeResult:
        yield self._clock
        yield self._list
        yield self._said
        yield from self.foot()

    def on_mount(self) -> None:
        self._list.border_title = "Posts, what the probe gave, where the leads are"
        self._list.focus()

    @property
    def marked(self) -> int | None:
        """The post that is marked."""
        at = self._list.highlighted
        return None if at is None else self._posts[at].post

    @on(OptionList.OptionSelected, "#posts")
    def _chosen(self) -> None:
        self.post_message(Asked("clip"))

    def show(self, clock: ClockView, posts: tuple[PostView, ...], said: str) -> None:
        """Put a picture on the screen."""
        self._clock.view, self._said.view = clock, said
        if posts != self._posts:
            at, self._posts = self._list.highlighted, posts
            self._list.clear_options()
            self._list.add_options([Option(each.words) for each in posts])
            self._list.highlighted = at or 0
