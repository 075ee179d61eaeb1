"""Cards as one self-contained HTML file: no script, no font, no picture from anywhere else."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.show.pages.card.house import HouseWords
from solver.show.pages.card.page import GaugeWords, Page
from solver.show.pages.paper import style

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent
LETTER = 0.56
"""Width of an average letter in the size of its type: a cautious estimate for a serif face."""


@dataclass(frozen=True)
class PaperSheet:
    """Paper: its size and margin in millimetres, columns of text, and whether it is `brief`.

    What is brief leaves recipes of the house and notes to a larger card where they would make its
    type small; what may hurt somebody stands on every card.
    """

    width_mm: float
    height_mm: float
    margin_mm: float
    columns: int = 1
    brief: bool = False

    @property
    def css(self) -> str:
        """The rule that has a browser print on it."""
        return (
            f"@page {{ size: {self.width_mm:g}mm {self.height_mm:g}mm; "
            f"margin: {self.margin_mm:g}mm; }}"
        )


SHEETS = {
    "page": PaperSheet(148, 210, 11),
    "index": PaperSheet(203, 127, 7, columns=2, brief=True),
    "phone": PaperSheet(100, 210, 6),
}
"""Half a letter page or A5, an index card of 8 by 5 inches, a phone."""
LARGEST_PT, SMALLEST_PT, STEP_PT = 10.5, 5.5, 0.25
LEADING = 1.36
"""From one line to the next, in the size of its type; and a little for what rounding loses."""
BRIEF_PT = 6.0
"""The smallest type of a brief card with recipes and notes, in points: our own choice."""
SECTION = 2.0
"""A heading and the room above it, in lines."""
MM_PT = 72 / 25.4


def cards_html(pages: Sequence[Page], title: str, *, size: str, book: bool) -> str:
    """Some cards, one a sheet of paper; a `book` begins with a table of contents."""
    return _template().render(
        pages=[_set(page, SHEETS[size]) for page in pages],
        title=title,
        language=pages[0].language if pages else "en",
        headings=pages[0].headings if pages else {},
        size=size,
        book=book,
        style=style(HERE / "card.css", rules=SHEETS[size].css),
    )


@dataclass(frozen=True)
class _Set:
    """A page and the type that it is printed in; `short` has neither recipes nor notes."""

    page: Page
    print_pt: float
    short: bool

    def __getattr__(self, name: str) -> object:
        return getattr(self.page, name)


def _set(page: Page, sheet: PaperSheet) -> _Set:
    whole = print_pt(page, sheet)
    long = bool(page.notes) or any(each.inputs or each.steps for each in page.house)
    short = sheet.brief and long and whole < BRIEF_PT
    return _Set(page, print_pt(page, sheet, short=True) if short else whole, short)


def print_pt(page: Page, sheet: PaperSheet, *, short: bool = False) -> float:
    """The largest type in which a card fits on one sheet, in points; never below legibility.

    Lines are counted as a printer's estimator does, by letters of average width.
    """
    size = LARGEST_PT
    room = (sheet.height_mm - 2 * sheet.margin_mm) * MM_PT
    while size > SMALLEST_PT and _height_pt(page, sheet, size, short=short) > room:
        size -= STEP_PT
    return size


def _height_pt(page: Page, sheet: PaperSheet, size: float, *, short: bool) -> float:
    """How tall a card stands in type of a size."""
    wide = (sheet.width_mm - 2 * sheet.margin_mm) * MM_PT
    gap = 2 * size * (sheet.columns - 1)
    whole = wide / (LETTER * size)
    column = (wide - gap) / sheet.columns / (LETTER * size)
    make, facts = _make_lines(page, column), _facts_lines(page, column)
    body = max(make, facts) if sheet.columns > 1 else make + facts
    around = _around_lines(page, whole)
    behind = _behind_lines(page, whole, short=short)
    return (around + body + behind) * LEADING * size


def _lines(text: object, letters: float) -> int:
    """Over how many lines of so many letters a text runs."""
    return math.ceil(len(str(text)) / max(6.0, letters))


def _around_lines(page: Page, letters: float) -> float:
    """The head and the foot."""
    head = 1.7 * _lines(page.name, letters / 2) + 1.2 * _lines(page.taste, letters / 1.1)
    foot = 1.2 + _lines(f"{page.cost}  {page.dates}", letters)
    return 1.2 + head + _lines(page.serving, letters) + foot


def _behind_lines(page: Page, letters: float, *, short: bool) -> float:
    """What the house makes, and notes."""
    house = sum(1.0 + _house_lines(each, letters, short=short) for each in page.house)
    house += _lines(page.planned, letters)
    notes = 0 if short else sum(_lines(each, letters) for each in str(page.notes).splitlines())
    larger = _lines(page.larger, letters) if short else 0
    return house + notes + larger + SECTION * (bool(page.house) + (notes > 0))


def _house_lines(house: HouseWords, letters: float, *, short: bool) -> float:
    """A recipe of the house below its name."""
    said = (house.keeping,) if short else (house.inputs, house.steps, house.keeping)
    return sum(_lines(each, letters) for each in said) + sum(
        _lines(each, letters - 4) for each in house.cautions
    )


def _make_lines(page: Page, letters: float) -> float:
    """Pours beside the drawn glass, and the method."""
    beside = letters - 20  # the glass, and both amounts
    pours = sum(_lines(f"{p.name} {p.remark}", beside - 12) + 0.35 for p in page.pours)
    method = sum(_lines(step, letters - 4) + 0.2 for step in page.steps)
    return max(pours + SECTION + 1.5, 9.0) + SECTION + method


def _facts_lines(page: Page, letters: float) -> float:
    """What it is in the glass, and what is told before it is drunk."""
    gauges = sum(_gauge_lines(each, letters) for each in page.gauges)
    numbers = _lines(f"{page.volume}; {page.drinks}", letters) + _lines(page.under, letters)
    tells = sum(_lines(each, letters - 4) + 0.2 for each in (*page.tells, *page.cautions))
    kitchen = sum(_lines(each, letters - 4) + 0.2 for each in page.kitchen)
    kitchen += SECTION * bool(page.kitchen)
    defers = 0.3 + _lines(page.defers, letters)
    return 2 * SECTION + gauges + numbers + 0.6 + tells + defers + kitchen


def _gauge_lines(gauge: GaugeWords, letters: float) -> float:
    """A gauge in one line where its words fit beside its picture; else its verdict below it."""
    words = f"{gauge.value}, {gauge.verdict}"
    return 0.3 + (1 if len(words) < letters - 36 or not gauge.verdict else 2)


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    jinja = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("card.html.jinja")
