"""A card as one SVG picture, for a wall, a message or a layout program."""

from __future__ import annotations

import textwrap
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from unicodedata import east_asian_width

from solver.show.pages.card.house import HouseWords
from solver.show.pages.card.page import GaugeWords, Page

WIDTH, MARGIN = 480, 28
LETTER = 0.47
"""Width of a letter in the size of its type, about; lines are broken a little early."""
SCALE_FROM, SCALE_LONG = 118.0, 150.0
"""Where the gauges begin and how long they are."""
PICTURE = 104.0
STYLE = """
svg { background: #fbf9f4; color: #1d2326; }
text { font: 13px Charter, "Bitstream Charter", Cambria, Georgia, serif; fill: #1d2326; }
.name { font-size: 27px; font-weight: 600; } .taste { font-style: italic; }
.soft { fill: #535c60; } .strong { font-weight: 600; } .head { fill: #8a3d1c; font-weight: 600; }
.small { font-size: 11.5px; } line.rule { stroke: #9aa3a6; }
line.thick { stroke: #1d2326; stroke-width: 3; }
.wall { fill: none; stroke: #1d2326; stroke-width: 2; stroke-linejoin: round; }
.liquid { fill: #e2c9a6; } .float { fill: #f3ede0; }
.surface { stroke: #1d2326; stroke-width: 1.2; stroke-dasharray: 5 3; }
.ice { fill: #ffffff; fill-opacity: .55; stroke: #535c60; }
.axis { stroke: #1d2326; } .band { fill: none; stroke: #1d2326; stroke-dasharray: 4 2; }
.mark { fill: #8a3d1c; stroke: #1d2326; stroke-width: .6; }
"""


def card_svg(page: Page) -> str:
    """The card; its height follows from what stands on it."""
    sheet = _Sheet()
    sheet.line(0, WIDTH, "thick", y=1.5)
    sheet.down(38)
    sheet.paragraph(page.name, "name", size=27, leading=30)
    sheet.down(6)
    sheet.paragraph(page.taste, "taste")
    sheet.paragraph(page.serving, "soft")
    top = sheet.y
    sheet.heading(page.headings["pours"])
    _pours(sheet, page)
    sheet.picture(page.picture, top)
    sheet.y = max(sheet.y, top + sheet.picture_height)
    sheet.heading(page.headings["method"])
    for number, step in enumerate(page.steps, start=1):
        sheet.paragraph(f"{number}. {step}", hang=16)
    sheet.heading(page.headings["glass_numbers"])
    for gauge in page.gauges:
        _gauge(sheet, gauge)
    sheet.down(6)
    sheet.paragraph(f"{page.volume}; {page.drinks}")
    if page.under:
        sheet.paragraph(str(page.under))
    sheet.heading(page.headings["tells"])
    for line in (*(f"{each}." for each in page.tells), *map(str, page.cautions)):
        sheet.paragraph(f"• {line}", hang=10)
    sheet.paragraph(page.defers, "soft small", size=11.5)
    for title, lines in _rest(page):
        sheet.heading(title)
        for line in lines:
            sheet.paragraph(line)
    if foot := "; ".join(filter(None, (page.cost, page.dates))):
        sheet.down(14)
        sheet.line(MARGIN, WIDTH - MARGIN, "rule")
        sheet.paragraph(foot, "soft small", size=11.5)
    return sheet.text(page)


def _rest(page: Page) -> Iterable[tuple[str, list[str]]]:
    if page.kitchen:
        yield page.headings["kitchen"], [f"• {each}" for each in page.kitchen]
    if page.house:
        said = [line for each in page.house for line in _recipe(each)]
        yield page.headings["house"], [*said, page.planned]
    if page.notes:
        yield page.headings["notes"], [str(page.notes)]


def _recipe(house: HouseWords) -> Iterator[str]:
    said = "; ".join(filter(None, (str(house.inputs), str(house.steps), house.keeping)))
    yield f"{house.name}: {said}"
    yield from (f"• {each}" for each in house.cautions)


def _pours(sheet: _Sheet, page: Page) -> None:
    for pour in page.pours:
        sheet.down(19)
        sheet.write(pour.first, MARGIN, "strong")
        sheet.write(pour.second, MARGIN + 78, "soft")
        name = f"{pour.name}, {pour.remark}" if pour.remark else str(pour.name)
        for number, line in enumerate(_broken(name, WIDTH - 2 * MARGIN - 140 - PICTURE, 13)):
            if number:
                sheet.down(16)
            sheet.write(line, MARGIN + 140)
        sheet.line(MARGIN, WIDTH - MARGIN - PICTURE - 14, "rule", y=sheet.y + 5)


def _gauge(sheet: _Sheet, gauge: GaugeWords) -> None:
    sheet.down(20)
    sheet.write(gauge.label, MARGIN)
    y = sheet.y - 2
    sheet.line(SCALE_FROM, SCALE_FROM + SCALE_LONG, "axis", y=y)
    if gauge.band is not None:
        low, high = (SCALE_FROM + SCALE_LONG * share for share in gauge.band)
        sheet.add("rect", "band", x=low, y=y - 5, width=high - low, height=10)
    at = SCALE_FROM + SCALE_LONG * gauge.at
    sheet.add("path", "mark", d=f"M{at:.1f} {y:.1f} l-4 -9 h8 z")
    sheet.write(gauge.value, SCALE_FROM + SCALE_LONG + 12)
    if gauge.verdict:
        sheet.down(14)
        sheet.write(gauge.verdict, SCALE_FROM + SCALE_LONG + 12, "soft small")


def _broken(text: str, width: float, size: float) -> list[str]:
    breadth = sum(map(_breadth, text)) / max(1, len(text))
    return textwrap.wrap(text, max(6, int(width / (LETTER * size * breadth)))) or [""]


def _breadth(letter: str) -> float:
    """How wide a letter is, in letters of average width: a cautious estimate for a serif face."""
    if east_asian_width(letter) in "WF" or letter in "WM@%—":
        return 2.2
    return 1.5 if letter.isupper() else 1.0


@dataclass
class _Sheet:
    """Elements placed from the top down; `y` is the base line of what was written last."""

    y: float = 0.0
    picture_height: float = 0.0
    elements: list[ET.Element] = field(default_factory=list)

    def down(self, by: float) -> None:
        self.y += by

    def add(self, tag: str, kind: str, **attributes: float | str) -> None:
        said = {k: v if isinstance(v, str) else f"{v:.1f}" for k, v in attributes.items()}
        self.elements.append(ET.Element(tag, {"class": kind, **said}))

    def write(self, text: str, x: float, kind: str = "") -> None:
        element = ET.Element("text", {"class": kind, "x": f"{x:.1f}", "y": f"{self.y:.1f}"})
        element.text = text
        self.elements.append(element)

    def line(self, left: float, right: float, kind: str, y: float | None = None) -> None:
        at = self.y if y is None else y
        self.add("line", kind, x1=left, x2=right, y1=at, y2=at)

    def heading(self, text: str) -> None:
        self.down(28)
        self.write(text, MARGIN, "head")

    def paragraph(
        self, text: str, kind: str = "", *, size: float = 13, leading: float = 17, hang: float = 0
    ) -> None:
        for number, line in enumerate(_broken(text, WIDTH - 2 * MARGIN - hang, size)):
            self.down(leading)
            self.write(line, MARGIN + (hang if number else 0), kind)

    def picture(self, svg: str, top: float) -> None:
        """Set the drawn glass to the right, below `top`."""
        drawn = ET.fromstring(svg)  # noqa: S314 - ours
        for each in drawn.iter():  # it is of the namespace of the whole
            each.tag = each.tag.rpartition("}")[2]
        _, _, wide, high = map(float, drawn.attrib["viewBox"].split())
        self.picture_height = min(150.0, PICTURE * high / wide) + 20
        drawn.attrib.update(
            x=f"{WIDTH - MARGIN - PICTURE:.1f}", y=f"{top + 12:.1f}", width=f"{PICTURE:.1f}",
            height=f"{self.picture_height - 20:.1f}",
        )  # fmt: skip
        self.elements.append(drawn)

    def text(self, page: Page) -> str:
        height = round(self.y + MARGIN)
        root = ET.Element(
            "svg", xmlns="http://www.w3.org/2000/svg", viewBox=f"0 0 {WIDTH} {height}",
            width=str(WIDTH), height=str(height), role="img",
            attrib={"xml:lang": page.language, "aria-labelledby": f"{page.anchor}-title"},
        )  # fmt: skip
        ET.SubElement(root, "title", id=f"{page.anchor}-title").text = f"{page.name}: {page.taste}"
        ET.SubElement(root, "style").text = STYLE
        ET.SubElement(root, "rect", width="100%", height="100%", fill="#fbf9f4")
        root.extend(self.elements)
        return ET.tostring(root, encoding="unicode", xml_declaration=True)
