"""Lines over an axis as a picture, in SVG: plain text that every browser shows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

WIDE, HIGH = 720, 420
LEFT, RIGHT, TOP, BOTTOM = 64, 160, 56, 56
_STROKES = ("#1b6ca8", "#b8540a", "#2e7d32", "#7b3fa0", "#8a6d00", "#00707a")
_DASHES = ("6 3", "2 3", "8 3 2 3", "4 4", "1 4", "10 4")
_TICKS = 6


@dataclass(frozen=True)
class Line:
    """One line by name; None where it has a gap."""

    name: str
    values: Sequence[float | None]


@dataclass(frozen=True)
class _Frame:
    """Where values lie in the picture."""

    low: float
    high: float
    most: float

    def x(self, value: float) -> float:
        span = (self.high - self.low) or 1.0
        return LEFT + (value - self.low) / span * (WIDE - LEFT - RIGHT)

    def y(self, value: float) -> float:
        return HIGH - BOTTOM - value / self.most * (HIGH - TOP - BOTTOM)


def curve_svg(
    *,
    title: str,
    says: str,
    across: str,
    up: str,
    at: Sequence[float],
    lines: Sequence[Line],
    mark: tuple[float, float],
) -> str:
    """A picture of `lines` over `at`, from 0 upward; the last is drawn heavy, `mark` is a point.

    `says` tells in a sentence what is to be seen, for those who do not see it.
    """
    values = [v for line in lines for v in line.values if v is not None]
    most = max([*values, mark[1], 1e-9])
    frame = _Frame(min(at), max(at), _round_up(most))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" role="img" '
        'font-family="sans-serif" font-size="13">',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape(says)}</desc>",
        f'<rect width="{WIDE}" height="{HIGH}" fill="#ffffff"/>',
        f'<text x="{LEFT}" y="24" font-size="16" fill="#111111">{escape(title)}</text>',
        f'<text x="{LEFT}" y="43" fill="#444444">{escape(says)}</text>',
        *_axes(frame, across, up),
        *_lines(frame, at, lines),
        f'<circle cx="{frame.x(mark[0]):.1f}" cy="{frame.y(mark[1]):.1f}" r="6" '
        'fill="none" stroke="#111111" stroke-width="2"/>',
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _round_up(value: float) -> float:
    """The next of 1, 2, 2.5 or 5 times a power of ten."""
    power = 10.0 ** math.floor(math.log10(value))
    return next(n * power for n in (1.0, 2.0, 2.5, 5.0, 10.0) if n * power >= value)


def _axes(frame: _Frame, across: str, up: str) -> Iterator[str]:
    floor, end = HIGH - BOTTOM, WIDE - RIGHT
    for k in range(_TICKS):
        value = frame.most * k / (_TICKS - 1)
        y = frame.y(value)
        yield f'<path d="M{LEFT} {y:.1f}H{end}" stroke="#dddddd"/>'
        yield (
            f'<text x="{LEFT - 8}" y="{y + 4:.1f}" text-anchor="end" '
            f'fill="#444444">{value:.3g}</text>'
        )
    for k in range(_TICKS):
        value = frame.low + (frame.high - frame.low) * k / (_TICKS - 1)
        x = frame.x(value)
        yield f'<path d="M{x:.1f} {floor}v5" stroke="#444444"/>'
        yield (
            f'<text x="{x:.1f}" y="{floor + 20}" text-anchor="middle" '
            f'fill="#444444">{value:.3g}</text>'
        )
    yield f'<path d="M{LEFT} {TOP}V{floor}H{end}" fill="none" stroke="#444444"/>'
    middle = (LEFT + end) / 2
    yield (
        f'<text x="{middle:.1f}" y="{HIGH - 12}" text-anchor="middle" '
        f'fill="#111111">{escape(across)}</text>'
    )
    yield (
        f'<text transform="translate(16 {(TOP + floor) / 2:.1f}) rotate(-90)" '
        f'text-anchor="middle" fill="#111111">{escape(up)}</text>'
    )


def _lines(frame: _Frame, at: Sequence[float], lines: Sequence[Line]) -> Iterator[str]:
    for k, line in enumerate(lines):
        last = k == len(lines) - 1
        stroke = "#111111" if last else _STROKES[k % len(_STROKES)]
        dash = "" if last else f' stroke-dasharray="{_DASHES[k % len(_DASHES)]}"'
        width = 2.5 if last else 1.5
        style = f'fill="none" stroke="{stroke}" stroke-width="{width}"{dash}'
        yield f'<path d="{_path(frame, at, line)}" {style}/>'
        if last:  # nothing is known between the points
            yield from _points(frame, at, line)
        y = TOP + 18 * k + 8
        yield f'<path d="M{WIDE - RIGHT + 14} {y}h26" {style}/>'
        yield (
            f'<text x="{WIDE - RIGHT + 46}" y="{y + 4}" fill="#111111">{escape(line.name)}</text>'
        )


def _points(frame: _Frame, at: Sequence[float], line: Line) -> Iterator[str]:
    for x, y in zip(at, line.values, strict=True):
        if y is not None:
            yield f'<circle cx="{frame.x(x):.1f}" cy="{frame.y(y):.1f}" r="3" fill="#111111"/>'


def _path(frame: _Frame, at: Sequence[float], line: Line) -> str:
    steps: list[str] = []
    pen = "M"
    for x, y in zip(at, line.values, strict=True):
        if y is None:
            pen = "M"
            continue
        steps.append(f"{pen}{frame.x(x):.1f} {frame.y(y):.1f}")
        pen = "L"
    return "".join(steps)
