"""A screen put in front for a moment: it goes once, whatever is still asked of it.

Law: keys typed in one burst all reach the screen that was in front when they came; only the first
that closes it does, and none closes what is behind it.
"""

from textual.await_complete import AwaitComplete
from textual.screen import ModalScreen, ScreenResultType


class Once(ModalScreen[ScreenResultType]):
    """Time goes on behind it."""

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Close it and answer, if it is still in front."""
        return super().dismiss(result) if self.app.screen is self else AwaitComplete()
