"""The two themes: copper on slate, and the same on paper."""

from textual.theme import Theme

DARK = Theme(
    name="slate",
    primary="#c9874f",
    secondary="#6fa8a0",
    accent="#e2a76f",
    foreground="#e4e2dc",
    background="#15191c",
    surface="#1c2226",
    panel="#262e33",
    boost="#303a40",
    warning="#e0c05a",
    error="#e08070",
    success="#8fbf8f",
    dark=True,
    variables={"muted": "#98a3a8"},
)
LIGHT = Theme(
    name="paper",
    primary="#8a4b1d",
    secondary="#2f6f68",
    accent="#8a4310",
    foreground="#22201c",
    background="#f6f3ec",
    surface="#fdfbf6",
    panel="#ebe5d8",
    boost="#e0d8c6",
    warning="#7a5c00",
    error="#a02a1a",
    success="#2f6b2f",
    dark=False,
    variables={"muted": "#6b6354"},
)
