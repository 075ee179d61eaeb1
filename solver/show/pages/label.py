"""Labels: as text, and as a sheet to print and cut, one label for each bottle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from solver.pantry.bar import Bar
from solver.quantities import show_temperature
from solver.show.pages.paper import style
from solver.show.words import Words
from solver.show.words.phrase import Phrase

if TYPE_CHECKING:
    from jinja2 import Template

HERE = Path(__file__).parent
LABEL_CSS, SHEET_CSS = HERE / "label.css", HERE / "label_sheet.css"
"""What a label looks like on whatever page, and the page that has nothing else."""

_FRIDGE_CELSIUS = 5.0
"""At most: FDA Food Code, 3-501.16, 41 °F."""


@dataclass(frozen=True)
class Label:
    """What is on a label, from top to bottom; allergens and cautions, `told`, stand out."""

    name: Phrase
    head: tuple[Phrase, ...]
    told: tuple[Phrase, ...]
    foot: tuple[Phrase, ...]


def caution_said(text: str, words: Words) -> Phrase:
    """A caution, said to be one."""
    return words.phrase("label", "caution", caution=words.called(text, "caution"))


def keep_cold_said(bar: Bar, words: Words, which: str = "keep_cold") -> Phrase:
    """That it is kept closed and cold; `which` is the key of the words."""
    said = show_temperature(_FRIDGE_CELSIUS, fahrenheit=bar.fahrenheit)
    return words.phrase("label", which, temperature=words.amount(said))


def label_text(label: Label) -> str:
    """One label as plain text."""
    return "\n".join(map(str, (label.name, *label.head, *label.told, *label.foot)))


def labels_html(labels: Sequence[Label], title: str, words: Words) -> str:
    """Labels on one page that needs nothing from anywhere else."""
    return _template().render(
        labels=labels, title=title, language=words.language, style=style(SHEET_CSS, LABEL_CSS)
    )


@cache
def _template() -> Template:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    jinja = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined)
    return jinja.get_template("label_sheet.html.jinja")
