"""Line charts as SVG: axes with ticks, areas, lines, markers, labels.

Nothing tells by colour alone: markers differ in shape, areas in shade and hatching, and lines have
their words beside them. Readable from a width of 800 pixels.
"""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from solver.show.text.wrap import wrapped

Place = tuple[float, float]
"""A value on each axis, x and y."""

MARK: Final = '<?xml version="1.0" encoding="UTF-8"?>\n<!-- Drawn by equipour.'
"""How every picture of ours begins."""

WIDTH = 800
LEFT, RIGHT, TOP, TALL = 78.0, 690.0, 64.0, 386.0
"""The edges of the plot and its height, in pixels; its top is lower by a row for each upright line.
What stands to the right of a marker at the edge has room beside the plot."""
ROW = 18
"""From one line of text to the next, in pixels."""
LETTER = 6.6
"""About what a letter of the plot's text takes, in pixels."""

INK, SHADE, GRID, STRONG = "#1a1a1a", "#e4e4e4", "#d0d0d0", "#7a1f1f"


@dataclass(frozen=True)
class Pen:
    """How a line is drawn; without dashes it is whole."""

    stroke: str = INK
    width: float = 1.8
    dashes: str = "none"

    @property
    def looks(self) -> dict[str, str | float]:
        """The pen as attributes."""
        return {
            "stroke": self.stroke,
            "stroke-width": self.width,
            "stroke-dasharray": self.dashes,
            "fill": "none",
        }


WHOLE, HEAVY = Pen(), Pen(width=2.6)
RULE = Pen(width=1.0, dashes="7 4")
PENS = (
    Pen("#1b6ca8", 1.6, "6 3"), Pen("#b8540a", 1.6, "2 3"), Pen("#2e7d32", 1.6, "8 3 2 3"),
    Pen("#7b3fa0", 1.6, "4 4"), Pen("#8a6d00", 1.6, "1 4"), Pen("#00707a", 1.6, "10 4"),
)  # fmt: skip
"""Pens that are told apart by their dashes, and by colour too."""
FEWEST_TICKS, MOST_TICKS = 3, 8


@dataclass(frozen=True)
class Scale:
    """An axis: what it says, unit included, and the values at its ends."""

    label: str
    low: float
    high: float
    whole: bool = False
    """Only whole numbers have a meaning."""
    names: tuple[str, ...] = ()
    """What whole numbers from 0 on are called, as far as they are."""

    @classmethod
    def around(
        cls, label: str, values: Iterable[float], *, least: float = 0.0, whole: bool = False
    ) -> Scale:
        """An axis with room around all of `values`, and no shorter than `least`.

        It goes below zero only where the values do.
        """
        known = list(values)
        low, high = min(known), max(known)
        margin = max(0.07 * (high - low), (least - (high - low)) / 2) or 0.1 * abs(high) or 1.0
        margin = max(margin, 0.5) if whole else margin
        return cls(label, max(low - margin, min(low, 0.0)), high + margin, whole)

    def holds(self, value: float) -> bool:
        """Whether a value lies on the axis."""
        return self.low <= value <= self.high

    def within(self, value: float) -> float:
        """The value on the axis that is nearest."""
        return min(max(value, self.low), self.high)

    def share(self, value: float) -> float:
        """How far along the axis a value lies: 0 at its low end, 1 at its high end."""
        return (value - self.low) / (self.high - self.low)

    def ticks(self) -> list[tuple[float, str]]:
        """Round values along the axis, and how each is written."""
        step = self._step()
        decimals = max(0, -math.floor(math.log10(step * (1 + 1e-9))))
        decimals += step * 10**decimals % 1 > 1e-6  # a quarter takes one more
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        if self.names:
            return [(n * step, self.names[round(n * step)]) for n in range(first, last + 1)]
        return [(n * step, f"{n * step + 0.0:.{decimals}f}") for n in range(first, last + 1)]

    def _step(self) -> float:
        """The finest round step that does not crowd the axis."""
        span = self.high - self.low
        tens = 10.0 ** math.floor(math.log10(span / MOST_TICKS))
        steps = [tens * nice for nice in (1, 2, 2.5, 5, 10, 20)]
        fits = next(step for step in steps if span / step <= MOST_TICKS)
        return max(1.0, math.ceil(fits)) if self.whole else fits


def staircase(places: Sequence[Place]) -> list[Place]:
    """The corners of steps down from each place to the next: along first, then down."""
    corners = list(places[:1])
    for (_, y), (x, below) in itertools.pairwise(places):
        corners += [(x, y), (x, below)]
    return corners


class Chart:
    """A picture that is drawn from the back to the front, and then taken as text."""

    def __init__(
        self, title: str, says: str, x: Scale, y: Scale, upright: Sequence[tuple[float, str]] = ()
    ) -> None:
        """`upright` are values of x at which a dashed line is drawn, with its words above it."""
        self.x, self.y = x, y
        self._upright = upright
        self._top = TOP + ROW * len(upright)
        self._bottom = self._top + TALL
        self._legend = 0
        self._svg = ET.Element(
            "svg",
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "width": str(WIDTH),
                "role": "img",
                "font-family": "sans-serif",
                "font-size": "13",
                "fill": INK,
            },
        )
        ET.SubElement(self._svg, "title").text = clean(title)
        ET.SubElement(self._svg, "desc").text = clean(says)
        self._hatching()
        self._add("rect", width="100%", height="100%", fill="white")
        self._text((LEFT, 26), title, size=min(18, 1150 // max(1, len(title))), weight="bold")
        self._text((LEFT, 47), says)

    def area(self, corners: Sequence[Place], *, hatched: bool = False) -> None:
        """A shaded or hatched area."""
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in map(self._at, corners))
        fill = "url(#hatching)" if hatched else SHADE
        self._add("polygon", points=points, fill=fill)

    def line(self, places: Sequence[Place | None], pen: Pen = WHOLE) -> None:
        """A line through places; None leaves a gap."""
        steps: list[str] = []
        joined = "M"
        for place in places:
            if place is not None:
                across, down = self._at(place)
                steps.append(f"{joined}{across:.1f},{down:.1f}")
            joined = "M" if place is None else "L"
        self._add("path", d=" ".join(steps), **pen.looks)

    def axes(self) -> None:
        """The frame, ticks with thin lines across, what the axes say, and the upright lines."""
        for value, said in self.x.ticks():
            across, _ = self._at((value, self.y.low))
            self._add("line", x1=across, x2=across, y1=self._top, y2=self._bottom, stroke=GRID)
            self._text((across, self._bottom + ROW), said, anchor="middle")
        for value, said in self.y.ticks():
            _, down = self._at((self.x.low, value))
            self._add("line", x1=LEFT, x2=RIGHT, y1=down, y2=down, stroke=GRID)
            self._text((LEFT - 8, down + 4), said, anchor="end")
        self._rectangle((LEFT, self._top), (RIGHT, self._bottom), fill="none", stroke=INK)
        middle = (LEFT + RIGHT) / 2, self._bottom + 2.2 * ROW
        self._text(middle, self.x.label, size=14, anchor="middle")
        x, y = 20, (self._top + self._bottom) / 2
        turned = self._text((x, y), self.y.label, size=14, anchor="middle")
        turned.set("transform", f"rotate(-90 {x} {y:.1f})")
        for row, (value, says) in enumerate(self._upright):
            across, _ = self._at((value, self.y.low))
            down = TOP + (row + 0.7) * ROW
            self._rule((across, down - 10), (across, self._bottom))
            roomy = across + LETTER * len(says) + 8 < WIDTH
            beside = across + (6 if roomy else -6), down
            self._text(beside, says, anchor="start" if roomy else "end", halo=True)

    def level(self, y: float, says: str, *, above: bool) -> None:
        """A dashed line at a value of y, with its words above or below its right end."""
        _, down = self._at((self.x.low, y))
        self._rule((LEFT, down), (RIGHT, down))
        above = (above and down - ROW > self._top) or down + ROW > self._bottom
        self._text((RIGHT - 6, down + (-6 if above else 14)), says, anchor="end", halo=True)

    def marker(self, place: Place, says: str, *, chosen: bool = False) -> None:
        """A ring, or a larger solid diamond; what it stands for is shown by pointing at it."""
        group = self._marker(self._at(place), chosen=chosen)
        ET.SubElement(group, "title").text = clean(says)

    def label(self, place: Place, says: str, *, below: bool = False) -> None:
        """Words to the right of a marker, and above or below it."""
        across, down = self._at(place)
        down += 20 if below else -8
        self._text((across + 10, down), says, weight="bold", halo=True)

    def words(self, place: Place, says: str, *, anchor: str = "middle") -> None:
        """Words in the plot, where they fit."""
        self._text(self._at(place), says, anchor=anchor, halo=True)

    def room(self, low: Place, high: Place, says: str) -> bool:
        """Whether words fit between two corners of the plot."""
        (left, bottom), (right, top) = self._at(low), self._at(high)
        return right - left > LETTER * len(says) + 12 and bottom - top > 2 * ROW

    def key(self, kind: str, says: str) -> None:
        """A line of the legend: for a `shaded`, `hatched` or `empty` area, a `ring`, a `diamond`.

        Any other kind has no sign.
        """
        for row, said in enumerate(wrapped(says, 105).splitlines()):
            down = self._bottom + (3.6 + self._legend) * ROW
            self._legend += 1
            sign = LEFT, down - 10
            if kind in {"shaded", "hatched", "empty"} and row == 0:
                fill = {"shaded": SHADE, "hatched": "url(#hatching)"}.get(kind, "white")
                self._rectangle(sign, (LEFT + 18, down + 1), fill=fill, stroke=INK)
            elif kind in {"ring", "diamond"} and row == 0:
                self._marker((LEFT + 9, down - 4.5), chosen=kind == "diamond")
            self._text((LEFT + 28, down), said.strip())

    def key_line(self, pen: Pen, says: str) -> None:
        """A line of the legend for a line of the chart."""
        down = self._bottom + (3.6 + self._legend) * ROW - 4.5
        self._add("line", x1=LEFT - 10, x2=LEFT + 22, y1=down, y2=down, **pen.looks)
        self.key("none", says)

    def text(self) -> str:
        """The picture as the content of an SVG file."""
        height = round(self._bottom + (3.6 + self._legend) * ROW)
        self._svg.set("viewBox", f"0 0 {WIDTH} {height}")
        self._svg.set("height", str(height))
        ET.indent(self._svg)
        return f"{MARK} -->\n{ET.tostring(self._svg, encoding='unicode')}\n"

    def _at(self, place: Place) -> Place:
        """Pixels of a place; what lies outside the plot is put on its edge."""
        x, y = self.x.within(place[0]), self.y.within(place[1])
        across = LEFT + (RIGHT - LEFT) * self.x.share(x)
        return across, self._bottom - TALL * self.y.share(y)

    def _rule(self, start: Place, end: Place) -> None:
        (x1, y1), (x2, y2) = start, end
        self._add("line", x1=x1, y1=y1, x2=x2, y2=y2, **RULE.looks)

    def _marker(self, centre: Place, *, chosen: bool) -> ET.Element:
        x, y = centre
        if not chosen:
            return self._add("circle", cx=x, cy=y, r=4, fill="white", stroke=INK)
        size = 9
        corners = [(x - size, y), (x, y - size), (x + size, y), (x, y + size)]
        points = " ".join(f"{a:.1f},{b:.1f}" for a, b in corners)
        return self._add("polygon", points=points, fill=STRONG, stroke="white")

    def _rectangle(self, corner: Place, other: Place, **looks: str) -> None:
        (left, top), (right, bottom) = corner, other
        self._add("rect", x=left, y=top, width=right - left, height=bottom - top, **looks)

    def _text(
        self, place: Place, says: str, *, size: int = 13, anchor: str = "start",
        weight: str = "normal", halo: bool = False,
    ) -> ET.Element:  # fmt: skip
        looks: dict[str, str | float] = {"font-size": size, "text-anchor": anchor}
        if weight != "normal":
            looks["font-weight"] = weight
        behind: dict[str, str | float] = {
            "stroke": "white",
            "stroke-width": 4,
            "aria-hidden": "true",
        }
        for around in [behind, {}] if halo else [{}]:  # readable on whatever is behind
            element = self._add("text", x=place[0], y=place[1], **looks, **around)
            element.text = clean(says)
        return element

    def _hatching(self) -> None:
        size = {"id": "hatching", "width": "6", "height": "6", "patternUnits": "userSpaceOnUse"}
        pattern = ET.SubElement(ET.SubElement(self._svg, "defs"), "pattern", size)
        ET.SubElement(pattern, "rect", width="6", height="6", fill="white")
        ET.SubElement(pattern, "path", d="M-1,1 l2,-2 M0,6 l6,-6 M5,7 l2,-2", stroke="#707070")

    def _add(self, name: str, **looks: str | float) -> ET.Element:
        written = {
            key.replace("_", "-"): value if isinstance(value, str) else f"{value:.6g}"
            for key, value in looks.items()
        }
        return ET.SubElement(self._svg, name, written)


def clean(text: str) -> str:
    """Text with a sign in place of each character that XML does not know."""
    return "".join(
        letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text
    )
