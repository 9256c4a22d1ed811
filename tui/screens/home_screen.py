"""Home: rooms at the left, what is in the room at the right, a line about it below."""

from collections.abc import Callable, Iterator
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.keymap import HOME
from tui.rooms import Item, RoomView
from tui.screens.room import Room


class HomeScreen(Room, groups=HOME):
    """Where everything else is found."""

    class Opened(Message):
        """Something was chosen."""

        def __init__(self, item: Item) -> None:
            super().__init__()
            self.item = item

    def __init__(self, name: str, listed: Callable[[], tuple[RoomView, ...]]) -> None:
        """Take the program's name, and what lists the rooms as they are now."""
        super().__init__()
        self._title, self._listed = name, listed
        self._rooms = listed()
        self._left = OptionList(*(each.title for each in self._rooms), id="rooms", markup=False)
        self._right = OptionList(id="things", markup=False)
        self._about = Static(id="about", markup=False)

    def compose(self) -> ComposeResult:
        yield Static(f" {self._title} | Home", classes="heading")
        with Horizontal(id="home"):
            yield self._left
            with Vertical():
                yield self._right
                yield self._about
        yield from self.foot()

    def on_mount(self) -> None:
        self._left.border_title, self._right.border_title = "Rooms", self._rooms[0].title
        self._left.highlighted = 0
        self._left.focus()

    def on_screen_resume(self) -> None:
        """What was done meanwhile is marked."""
        at, thing = self._left.highlighted, self._right.highlighted
        self._rooms = self._listed()
        if at is not None:
            self._list(self._rooms[at])
            self._right.highlighted = thing

    def items(self) -> Iterator[Item]:
        """All that can be opened."""
        for room in self._rooms:
            yield from room.items

    def acts(self) -> dict[str, Callable[[], Any]]:
        return super().acts() | {
            "rooms": self._left.focus,
            "things": self._to_things,
            "enter": self._to_things,
        }

    def _to_things(self) -> None:
        self._right.focus()
        if self._right.highlighted is None:
            self._right.action_first()

    def _list(self, room: RoomView) -> None:
        self._right.border_title = room.title
        self._right.clear_options()
        self._right.add_options([Option(_row(item)) for item in room.items])
        self._about.update(room.about)
        if self._right.has_focus:  # whoever was quicker than the list stands on its first row
            self._right.action_first()

    @on(OptionList.OptionHighlighted, "#rooms")
    def _room_marked(self, event: OptionList.OptionHighlighted) -> None:
        self._list(self._rooms[event.option_index])

    @on(OptionList.OptionSelected, "#rooms")
    def _room_chosen(self) -> None:
        self._to_things()

    @on(OptionList.OptionHighlighted, "#things")
    def _thing_marked(self, event: OptionList.OptionHighlighted) -> None:
        self._about.update(self._room.items[event.option_index].about)

    @on(OptionList.OptionSelected, "#things")
    def _thing_chosen(self, event: OptionList.OptionSelected) -> None:
        self.post_message(self.Opened(self._room.items[event.option_index]))

    @property
    def _room(self) -> RoomView:
        return self._rooms[self._left.highlighted or 0]


def _row(item: Item) -> Content:
    return Content.assemble(item.title, (f"  {item.done}" if item.done else "", "$success"))
