"""The picture on a card: the glass, filled to where the drink stands in it.

Drawn in outline and hatching, so that it reads in black and white; colours come from the page.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable, Mapping

from solver.drinks.card import Card
from solver.drinks.method import ServedAs
from solver.show.pages.card.vessel import Shape, height_of, radius_at, shape_of

SCALE = 12.0
"""Pixels of one unit of an outline."""
MARGIN = 10.0
LINE_AT = 0.9
"""Share of its brim at which the wash line of a glass with ice is drawn: ice fills the rest."""
FULLEST = 0.98
LOOKS: Mapping[str, Mapping[str, str]] = {
    "liquid": {"fill": "#ddd"},
    "float": {"fill": "#f4f4f4"},
    "surface": {"stroke": "#000", "stroke-width": "1.2", "stroke-dasharray": "5 3"},
    "wall": {"fill": "none", "stroke": "#000", "stroke-width": "2", "stroke-linejoin": "round"},
    "ice": {"fill": "#fff", "fill-opacity": "0.55", "stroke": "#444", "stroke-width": "1"},
}
"""How each thing is drawn where no style sheet says otherwise: in black and white."""


def looks(kind: str) -> dict[str, str]:
    """The attributes of a thing of a kind."""
    return {"class": kind, **LOOKS[kind]}


Placing = Callable[[float, float], str]
"""A radius and a height of an outline as a point of the picture."""
NO_GLASS_ML = 200.0
"""What a drink without a glass is drawn in: a coupe of common size, no source."""


def glass_svg(card: Card, title: str, anchor: str) -> str:
    """The glass as SVG: `title` says it in words, `anchor` makes its names unique in a page."""
    shape = shape_of(card.glass.name if card.glass else "coupe")
    levels = fill_levels(card, shape)
    bowl_top = shape.bowl[-1][1]
    widest = max(radius for radius, _ in shape.bowl)
    handle = 1.8 if shape.handle else 0.0
    width = 2 * MARGIN + SCALE * (2 * widest + 2 * handle)
    height = 2 * MARGIN + SCALE * (bowl_top + shape.stem + 0.6)
    centre = width / 2

    def place(radius: float, at: float) -> str:
        return f"{centre + SCALE * radius:.1f},{MARGIN + SCALE * (bowl_top - at):.1f}"

    root = ET.Element(
        "svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {width:.0f} {height:.0f}",
        role="img", attrib={"aria-labelledby": f"{anchor}-glass", "class": "glass"},
    )  # fmt: skip
    ET.SubElement(root, "title", id=f"{anchor}-glass").text = title
    below = 0.0
    for number, level in enumerate(levels):
        points = _slice(shape, below, level)
        outline = [place(r, h) for r, h in points] + [place(-r, h) for r, h in reversed(points)]
        kind = "liquid" if number == 0 else "float"
        ET.SubElement(root, "polygon", points=" ".join(outline), attrib=looks(kind))
        left, right = place(-points[-1][0], level), place(points[-1][0], level)
        _line(root, left, right, "surface")
        below = level
    if card.serve in {ServedAs.ON_ICE, ServedAs.CRUSHED}:
        _ice(root, shape, levels[-1], place, crushed=card.serve is ServedAs.CRUSHED)
    _outline(root, shape, place)
    return ET.tostring(root, encoding="unicode")


def fill_levels(card: Card, shape: Shape) -> list[float]:
    """How high each layer stands, from below, in units of the outline."""
    glass = card.glass
    if glass is None:
        whole = NO_GLASS_ML
    elif card.serve in {ServedAs.UP, ServedAs.HOT}:
        whole = (glass.brim_low_ml + glass.brim_high_ml) / 2
    else:
        whole = glass.wash_line_ml / LINE_AT
    levels: list[float] = []
    poured = 0.0
    for layer in card.layers:
        poured += layer.volume_ml
        levels.append(height_of(shape.bowl, min(FULLEST, poured / whole)))
    return levels


def _slice(shape: Shape, low: float, high: float) -> list[tuple[float, float]]:
    """The inside of the bowl between two heights, from below."""
    between = [(r, h) for r, h in shape.bowl if low < h < high]
    return [(radius_at(shape.bowl, low), low), *between, (radius_at(shape.bowl, high), high)]


def _outline(root: ET.Element, shape: Shape, place: Placing) -> None:
    rim, top = shape.bowl[-1]
    sides = [place(-r, h) for r, h in reversed(shape.bowl)] + [place(r, h) for r, h in shape.bowl]
    ET.SubElement(root, "polyline", points=" ".join(sides), attrib=looks("wall"))
    if shape.stem:
        _line(root, place(0, 0), place(0, -shape.stem), "wall")
        _line(root, place(-0.8 * rim, -shape.stem), place(0.8 * rim, -shape.stem), "wall")
    if shape.handle:
        curve = f"M{place(rim, top * 0.8)} C{place(rim + 2.4, top * 0.85)} "
        curve += f"{place(rim + 2.4, top * 0.2)} {place(rim, top * 0.2)}"
        ET.SubElement(root, "path", d=curve, attrib=looks("wall"))


def _line(root: ET.Element, start: str, end: str, kind: str) -> None:
    (x1, y1), (x2, y2) = start.split(","), end.split(",")
    ET.SubElement(root, "line", x1=x1, y1=y1, x2=x2, y2=y2, attrib=looks(kind))


def _ice(root: ET.Element, shape: Shape, level: float, place: Placing, *, crushed: bool) -> None:
    """Cubes, or many small pieces, that stand a little out of the drink."""
    size = 0.9 if crushed else 2.1
    across = max(1, int(2 * radius_at(shape.bowl, 0.8 * level) / (size * 1.25)))
    for row in range(2 if crushed else 1):
        at = level - (row + 0.55) * size
        if at < 0.3:
            continue
        for k in range(across):
            middle = (k - (across - 1) / 2) * size * 1.25 + (0.3 if row % 2 else 0.0)
            lean = 0.16 * size * (1 if (k + row) % 2 else -1)
            corners = (
                (middle - size / 2, at + lean), (middle + size / 2, at - lean),
                (middle + size / 2 + lean, at + size - lean),
                (middle - size / 2 + lean, at + size + lean),
            )  # fmt: skip
            points = " ".join(place(x, y) for x, y in corners)
            ET.SubElement(root, "polygon", points=points, attrib=looks("ice"))
