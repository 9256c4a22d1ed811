"""A plot as SVG, by hand: axes, ticks, lines, bands, marks. Every text is escaped."""

from collections.abc import Iterator
from html import escape
from math import floor, log10
from zlib import crc32

from farend_sim.answers.answer import Plot

WIDTH, HEIGHT = 640, 320
LEFT, RIGHT, TOP, BOTTOM = 64, 16, 28, 60
COLOURS = ("#1b5e9c", "#b3541e", "#2e7d4f", "#7a3e9d", "#8a6d00", "#555555")


def plot_svg(plot: Plot) -> str:
    """Return a whole svg element."""
    frame = _Frame(plot)
    area = f"area-{crc32(plot.title.encode())}"
    inside = f'x="{LEFT}" y="{TOP}" width="{WIDTH - LEFT - RIGHT}" height="{HEIGHT - TOP - BOTTOM}"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(plot.title)}" font-family="sans-serif" font-size="12">',
        _text(LEFT, 16, plot.title, weight="bold"),
        *_axes(plot, frame),
        f'<clipPath id="{area}"><rect {inside}/></clipPath><g clip-path="url(#{area})">',
        *_bands(plot, frame),
        *_lines(plot, frame),
        "</g>",
        *_legend(plot),
        *_marks(plot, frame),
        "</svg>",
    ]
    return "\n".join(parts)


class _Frame:
    """Where a point of the plot lies on the paper."""

    def __init__(self, plot: Plot) -> None:
        self.low_x, self.high_x = plot.span_x
        self.low_y, self.high_y = plot.span_y

    def x(self, x: float) -> float:
        share = (x - self.low_x) / ((self.high_x - self.low_x) or 1.0)
        return LEFT + share * (WIDTH - LEFT - RIGHT)

    def y(self, y: float) -> float:
        most = self.low_y + 3 * (self.high_y - self.low_y)  # beyond, nothing can be seen
        share = (min(y, most) - self.low_y) / (self.high_y - self.low_y)
        return HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)


def _text(x: float, y: float, text: str, anchor: str = "start", weight: str = "normal") -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" font-weight="{weight}" '
        f'fill="currentColor">{escape(text)}</text>'
    )


def ticks(low: float, high: float) -> Iterator[float]:
    """Round numbers, some five of them."""
    rough = (high - low) / 5
    power = 10 ** floor(log10(rough))
    step = next(power * each for each in (1, 2, 5, 10) if power * each >= rough)
    at = floor(low / step) * step
    while at <= high + step / 1e6:
        if at >= low - step / 1e6:
            yield at
        at += step


def _axes(plot: Plot, frame: _Frame) -> Iterator[str]:
    bottom, right = HEIGHT - BOTTOM, WIDTH - RIGHT
    for x in ticks(frame.low_x, frame.high_x):
        yield _text(frame.x(x), bottom + 16, f"{x:g}", "middle")
    for y in ticks(frame.low_y, frame.high_y):
        at = frame.y(y)
        yield f'<path d="M{LEFT} {at:.1f}H{right}" stroke="currentColor" opacity="0.15"/>'
        yield _text(LEFT - 6, at + 4, f"{y:.6g}", "end")
    yield f'<path d="M{LEFT} {TOP}V{bottom}H{right}" fill="none" stroke="currentColor"/>'
    yield _text(right, bottom + 32, plot.x, "end")
    yield _text(right, 16, plot.y, "end")


def _path(points: tuple[tuple[float, float], ...], frame: _Frame) -> str:
    return "L".join(f"{frame.x(x):.1f} {frame.y(y):.1f}" for x, y in points)


def _bands(plot: Plot, frame: _Frame) -> Iterator[str]:
    for line, colour in zip(plot.lines, COLOURS, strict=False):
        if line.low:
            around = _path((*line.points, *reversed(line.low)), frame)
            yield f'<path d="M{around}Z" fill="{colour}" opacity="0.15"/>'


def _lines(plot: Plot, frame: _Frame) -> Iterator[str]:
    for line, colour in zip(plot.lines, COLOURS, strict=False):
        if not line.low:
            path = _path(line.points, frame)
            yield f'<path d="M{path}" fill="none" stroke="{colour}" stroke-width="2"/>'


def _legend(plot: Plot) -> Iterator[str]:
    x = float(LEFT)
    for line, colour in zip(plot.lines, COLOURS, strict=False):
        yield f'<rect x="{x:.0f}" y="{HEIGHT - 18}" width="12" height="10" fill="{colour}"/>'
        yield _text(x + 16, HEIGHT - 9, line.name)
        x += 30 + 6.5 * len(line.name)


def _marks(plot: Plot, frame: _Frame) -> Iterator[str]:
    bottom = HEIGHT - BOTTOM
    for row, (name, x) in enumerate(plot.marks):
        if frame.low_x <= x <= frame.high_x:
            at = frame.x(x)
            dashes = 'stroke="currentColor" stroke-dasharray="4 3"'
            yield f'<path d="M{at:.1f} {TOP}V{bottom}" {dashes}/>'
            yield _text(at + 4, TOP + 26 + 14 * row, name)
