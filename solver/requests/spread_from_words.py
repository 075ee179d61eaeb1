"""How far pours, figures and melt may stray, read from words: for `vary`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.printable import short
from solver.quantities import parse, parse_span

FIGURES = {"strength": "abv", "abv": "abv", "sugar": "sugar", "acid": "acid"}
"""What a figure of an ingredient is called, and its key in files."""
_QUANTITIES = {"abv": "strength", "sugar": "concentration", "acid": "concentration"}
_MELT_LIKE = "Write it like 0.7..1.3."
_LIKE = 'Write it like "lime-juice acid=4.8..6.3 g/100ml".'


@dataclass(frozen=True)
class SaidSpread:
    """Ranges that somebody states in place of the usual ones.

    `jigger_ml` is how far a jigger's pour is off either way; `melt` the least and most melt, as
    times the usual; `figures` the range of a figure, by the keys of the ingredient and the figure:
    "abv" in % vol, "sugar" and "acid" in g/100 mL.
    """

    jigger_ml: float | None = None
    melt: tuple[float, float] | None = None
    figures: Mapping[tuple[str, str], tuple[float, float]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Check that the usual melt is in its range.

        Raises:
            BadInput: it is not.
        """
        if self.melt is not None and not self.melt[0] <= 1 <= self.melt[1]:
            what = f"{self.melt[0]:g}..{self.melt[1]:g} is no range of melt"
            raise BadInput(what, why="it is a range around 1, the usual melt", remedy=_MELT_LIKE)


def read_spread(
    jigger: str | None, melt: str | None, figures: Sequence[str], bar: Bar
) -> SaidSpread:
    """Read the ranges of pours, melt and figures.

    Raises:
        BadInput: something can't be read or is not known.
    """
    return SaidSpread(
        jigger_ml=None if jigger is None else parse(jigger, "volume", bar.measures),
        melt=None if melt is None else _times(melt),
        figures=dict(_figure(text, bar) for text in figures),
    )


def _times(text: str) -> tuple[float, float]:
    what = f"'{short(text)}' is no range of melt"
    try:
        span = parse_span(text, "pours")
    except BadInput as error:
        raise BadInput(what, remedy=_MELT_LIKE) from error
    if span.low is None or span.high is None:
        raise BadInput(what, why="it needs two ends", remedy=_MELT_LIKE)
    return span.low, span.high


def _figure(text: str, bar: Bar) -> tuple[tuple[str, str], tuple[float, float]]:
    named, sign, written = text.partition("=")
    name, _, word = named.strip().rpartition(" ")
    if not sign or not name:
        raise BadInput(f"'{short(text)}' names no figure of an ingredient", remedy=_LIKE)
    if word.lower() not in FIGURES:
        what = f"'{short(word)}' is not a figure of an ingredient"
        near = near_words(word.lower(), FIGURES)
        raise BadInput(what, near=near, remedy=f"Use strength, sugar or acid. {_LIKE}")
    figure = FIGURES[word.lower()]
    span = parse_span(written, _QUANTITIES[figure], bar.measures)
    if span.low is None or span.high is None:
        what = f"'{short(written)}' is no range with two ends"
        raise BadInput(what, remedy=_LIKE)
    item = bar.bottles.find(name)
    return (item.key, figure), range_around_own(item, figure, span.low, span.high)


def range_around_own(item: Ingredient, figure: str, low: float, high: float) -> tuple[float, float]:
    """A range of a figure of an ingredient, both ends.

    Raises:
        BadInput: the figure that the bar has lies outside.
    """
    own = getattr(item, figure).value
    if not low <= own <= high:
        what = f"{item.name} has {own:g} here, which is not in {low:g}..{high:g}"
        remedy = "Give a range around it; or put the figure of yours onto the shelf."
        raise BadInput(what, remedy=remedy)
    return low, high
