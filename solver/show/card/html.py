"""Cards as one self-contained HTML file: no script, no font, no picture from anywhere else."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.show.card.page import Page

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent

SHEETS = {
    "page": "@page { size: 148mm 210mm; margin: 12mm; } @media print { html { font-size: 9.5pt; } }",
    "index": "@page { size: 203mm 127mm; margin: 7mm; } @media print { html { font-size: 7pt; } }",
    "phone": "@page { size: 100mm 210mm; margin: 6mm; } @media print { html { font-size: 9pt; } }",
}
"""The paper of each size: half a letter page or A5, an index card of 8 by 5 inches, a phone."""


def cards_html(pages: Sequence[Page], title: str, *, size: str, book: bool) -> str:
    """Some cards, one a sheet of paper; a `book` begins with a table of contents."""
    return _template().render(
        pages=pages,
        title=title,
        language=pages[0].language if pages else "en",
        headings=pages[0].headings if pages else {},
        size=size,
        book=book,
        style=_style(size),
    )


def _style(size: str) -> str:
    from markupsafe import Markup

    text = (HERE / "card.css").read_text(encoding="utf-8")
    return Markup(f"{text}\n{SHEETS[size]}")  # noqa: S704 - ours, and no user's text in it


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    jinja = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("card.html.jinja")
