"""Glasses as solids of revolution: their outline, and how high a volume stands in them.

Heights and radii are in units of the outline; a glass is scaled so that it holds its volume to the
brim, so the line that is drawn is where the drink really stands.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

Point = tuple[float, float]
"""A radius and a height, both from the inside of the bowl's lowest point."""


@dataclass(frozen=True)
class Shape:
    """The inside of a bowl from below, and what it stands on.

    `stem` is how far the foot lies below the bowl; 0 for a glass that stands on its base. `handle`
    says that it has one.
    """

    bowl: tuple[Point, ...]
    stem: float = 0.0
    handle: bool = False


def rounded(*points: Point) -> tuple[Point, ...]:
    """A smooth outline through some points: a uniform Catmull-Rom spline, in short lines.

    Heights never fall from one point to the next, so that the outline can be filled from below.
    """
    ends = (points[0], *points, points[-1])
    found: list[Point] = [points[0]]
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        for k in range(1, PIECES + 1):
            t = k / PIECES
            radius, height = (_between(a[i], b[i], c[i], d[i], t) for i in (0, 1))
            found.append((max(0.0, radius), max(found[-1][1], height)))
    return tuple(found)


def _between(a: float, b: float, c: float, d: float, t: float) -> float:
    """The spline's value between b and c, at t from 0 to 1."""
    even = 2 * b + (c - a) * t
    bend = (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3
    return (even + bend) / 2


PIECES = 8
"""Short lines from one point of a smooth outline to the next."""
SHAPES = {
    "coupe": Shape(rounded((0.0, 0.0), (2.2, 0.12), (3.9, 0.9), (4.7, 2.3), (4.9, 3.7)), stem=5.0),
    "bell": Shape(rounded((0.0, 0.0), (2.0, 0.5), (2.9, 2.0), (3.2, 4.0), (3.1, 5.6)), stem=5.2),
    "cone": Shape(((0.0, 0.0), (5.0, 5.0)), stem=5.6),
    "flute": Shape(rounded((0.0, 0.0), (1.5, 1.2), (2.1, 4.0), (2.2, 8.0), (1.9, 11.0)), stem=4.4),
    "bowl": Shape(rounded((0.0, 0.0), (2.8, 0.6), (4.2, 2.8), (4.2, 5.0), (3.4, 8.0)), stem=5.0),
    "snifter": Shape(rounded((0.0, 0.0), (3.0, 0.6), (4.4, 2.4), (4.1, 4.4), (2.8, 6.8)), stem=1.8),
    "low": Shape(((0.0, 0.0), (3.7, 0.0), (4.2, 7.0))),
    "tall": Shape(((0.0, 0.0), (2.9, 0.0), (3.1, 12.0))),
    "curved": Shape(
        rounded((0.0, 0.0), (1.6, 0.5), (2.4, 3.0), (2.1, 6.5), (2.6, 10.0), (3.0, 12.0)), stem=2.0
    ),
    "mug": Shape(((0.0, 0.0), (3.4, 0.0), (3.6, 8.0)), handle=True),
    "cup": Shape(((0.0, 0.0), (3.0, 0.0), (4.0, 8.0))),
}
"""Outlines by our own names for them."""

SHAPE_OF = {
    "coupe": "coupe", "coupe-small": "coupe", "nick-and-nora": "bell", "martini": "cone",
    "rocks": "low", "double-rocks": "low", "highball": "tall", "collins": "tall", "fizz": "tall",
    "fizz-tall": "tall",
    "flute": "flute", "wine": "bowl", "mug": "mug", "hurricane": "curved", "julep-cup": "cup",
    "mule-mug": "mug", "snifter": "snifter", "shot": "low", "punch-cup": "mug",
}  # fmt: skip
"""The outline of each built-in glass; any other is drawn as a low one."""


def shape_of(glass: str) -> Shape:
    """The outline of a glass, by its name."""
    return SHAPES[SHAPE_OF.get(glass, "low")]


def radius_at(bowl: Sequence[Point], height: float) -> float:
    """The inside radius at a height; that of the rim above it."""
    for (r0, h0), (r1, h1) in pairwise(bowl):
        if h0 <= height <= h1 and h1 > h0:
            return r0 + (r1 - r0) * (height - h0) / (h1 - h0)
    return bowl[-1][0]


def volume_to(bowl: Sequence[Point], height: float) -> float:
    """The volume below a height, in cubic units: a stack of cone frustums."""
    total = 0.0
    for (r0, h0), (r1, h1) in pairwise(bowl):
        top = min(h1, height)
        if top > h0:
            r_top = r0 + (r1 - r0) * (top - h0) / (h1 - h0)
            total += math.pi * (top - h0) * (r0 * r0 + r0 * r_top + r_top * r_top) / 3
    return total


def height_of(bowl: Sequence[Point], share: float) -> float:
    """How high a share of the brim's volume stands, from 0 to the height of the brim."""
    brim = bowl[-1][1]
    whole = volume_to(bowl, brim)
    low, high = 0.0, brim
    for _ in range(60):
        middle = (low + high) / 2
        if volume_to(bowl, middle) < share * whole:
            low = middle
        else:
            high = middle
    return high
