"""Cards as one self-contained HTML file: no script, no font, no picture from anywhere else."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.show.card.page import Page

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent
LETTER = 0.56
"""Width of an average letter in the size of its type: a cautious estimate for a serif face."""


@dataclass(frozen=True)
class Sheet:
    """Paper: its size and margin in millimetres, and columns of text."""

    width_mm: float
    height_mm: float
    margin_mm: float
    columns: int = 1

    @property
    def css(self) -> str:
        """The rule that has a browser print on it."""
        return (
            f"@page {{ size: {self.width_mm:g}mm {self.height_mm:g}mm; "
            f"margin: {self.margin_mm:g}mm; }}"
        )


SHEETS = {
    "page": Sheet(148, 210, 11),
    "index": Sheet(203, 127, 7, columns=2),
    "phone": Sheet(100, 210, 6),
}
"""Half a letter page or A5, an index card of 8 by 5 inches, a phone."""
LARGEST_PT, SMALLEST_PT, STEP_PT = 10.0, 5.5, 0.25
MM_PT = 72 / 25.4


def cards_html(pages: Sequence[Page], title: str, *, size: str, book: bool) -> str:
    """Some cards, one a sheet of paper; a `book` begins with a table of contents."""
    return _template().render(
        pages=[_Set(page, print_pt(page, SHEETS[size])) for page in pages],
        title=title,
        language=pages[0].language if pages else "en",
        headings=pages[0].headings if pages else {},
        size=size,
        book=book,
        style=_style(size),
    )


@dataclass(frozen=True)
class _Set:
    """A page and the type that it is printed in."""

    page: Page
    print_pt: float

    def __getattr__(self, name: str) -> object:
        return getattr(self.page, name)


def print_pt(page: Page, sheet: Sheet) -> float:
    """The largest type in which a card fits on one sheet, in points; never below legibility.

    Lines are counted as a printer's estimator does, by letters of average width.
    """
    size = LARGEST_PT
    room = (sheet.height_mm - 2 * sheet.margin_mm) * MM_PT * sheet.columns
    while size > SMALLEST_PT and _height_pt(page, sheet, size) > room:
        size -= STEP_PT
    return size


def _height_pt(page: Page, sheet: Sheet, size: float) -> float:
    """How tall a card stands in type of a size, all its columns under each other."""
    gap = 2 * size * (sheet.columns - 1)
    wide = ((sheet.width_mm - 2 * sheet.margin_mm) * MM_PT - gap) / sheet.columns
    letters = max(12.0, wide / (LETTER * size))

    def lines(text: str, share: float = 1.0) -> int:
        return math.ceil(len(text) / (letters * share)) if text else 0

    sections = 3 + 1 + bool(page.house) + bool(page.notes)
    pours = sum(1.2 * lines(f"{p.name} {p.remark}", 0.45) for p in page.pours)
    drawn = 11.8
    count = (
        2 * lines(page.name, 0.55) + lines(page.taste) + lines(page.serving)
        + max(pours + 2.4, drawn)
        + sum(lines(step) + 0.2 for step in page.steps)
        + sum(lines(f"{g.value}, {g.verdict}", 0.45) + 0.2 for g in page.gauges)
        + lines(f"{page.volume}; {page.drinks}")
        + sum(lines(line) + 0.2 for line in (*page.tells, *page.cautions))
        + lines(page.defers)
        + sum(1 + lines(h.inputs) + lines(h.keeping) for h in page.house)
        + lines(page.notes)
        + lines(f"{page.cost} {page.dates}")
        + sections * 1.9
        + 2 * sheet.columns
    )  # fmt: skip
    return count * 1.35 * size


def _style(size: str) -> str:
    from markupsafe import Markup

    text = (HERE / "card.css").read_text(encoding="utf-8")
    return Markup(f"{text}\n{SHEETS[size].css}")  # noqa: S704 - ours, and no user's text in it


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    jinja = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("card.html.jinja")
