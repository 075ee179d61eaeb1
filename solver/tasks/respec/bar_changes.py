"""Changes at a bar: other figures of a bottle, a bottle that is gone, another wash line."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from solver.drinks.assess import Assessment
from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.own_figures import OVERRIDES, overridden, read_figure
from solver.printable import short
from solver.quantities import parse


@dataclass(frozen=True)
class BarChanges:
    """Changed bottles by key, keys that are gone, and wash lines (mL) by glass.

    `said` has each change in words. Empty: the shelf as it is now.
    """

    bottles: Mapping[str, Ingredient] = field(default_factory=dict)
    gone: frozenset[str] = frozenset()
    glasses: Mapping[str, float] = field(default_factory=dict)
    said: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.said)

    def at(self, bar: Bar) -> Bar:
        """The bar after the changes. What is gone keeps its figures, as specs are written with
        it."""
        for own in self.bottles.values():
            bar = bar.with_bottle(own)
        for glass, wash_line_ml in self.glasses.items():
            bar = bar.with_wash_line(glass, wash_line_ml)
        return bar

    def concerns(self, made: Assessment, bar: Bar) -> bool:
        """Whether a spec pours something changed, or is served in a changed glass."""
        keys = {line.ingredient.key for line in made.lines}
        changed = {bar.glass(name).name for name in self.glasses}
        served = made.glass is not None and bar.glass(made.glass).name in changed
        return served or not keys.isdisjoint({*self.bottles, *self.gone})


def read_changes(
    figures: Sequence[str], gone: Sequence[str], glasses: Sequence[str], bar: Bar
) -> BarChanges:
    """Read changes like "rye-whiskey.abv=45%", "mezcal" and "coupe=150 ml".

    Raises:
        BadInput: something can't be read, or is not known here.
    """
    bottles: dict[str, dict[str, float]] = {}
    said: list[str] = []
    for text in figures:
        item, name, value = _figure(text, bar)
        own = bottles.setdefault(item.key, {})
        if name in own:
            raise BadInput(f"'{short(text)}' gives {name} of {item.key} a second time")
        own[name] = read_figure(name, value, bar.measures)
        said.append(f"{item.name} with {name} {value.strip()}")
    out = [bar.bottles.find(text) for text in gone]
    said += [f"out of {item.name}" for item in out]
    lines: dict[str, float] = {}
    for text in glasses:
        name, line_ml = read_glass(text, bar)
        lines[name] = line_ml
        said.append(f"{name} filled to {text.partition('=')[2].strip()}")
    made = {key: overridden(bar.bottles.find(key), own) for key, own in bottles.items()}
    return BarChanges(made, frozenset(item.key for item in out), lines, tuple(said))


def _figure(text: str, bar: Bar) -> tuple[Ingredient, str, str]:
    """The ingredient, the name of the figure, and its value as written."""
    left, sign, value = text.partition("=")
    name, dot, figure = left.rpartition(".")
    figure = figure.strip()
    if not sign or not dot or figure not in OVERRIDES:
        what = f"'{short(text)}' does not set a figure"
        near = near_words(figure, OVERRIDES) if dot and figure not in OVERRIDES else ()
        raise BadInput(what, near=near, remedy="Write it like rye-whiskey.abv=45%.")
    return bar.bottles.find(name), figure, value


def read_glass(text: str, bar: Bar) -> tuple[str, float]:
    """Read a glass and its wash line (mL) like "coupe=150 ml".

    Raises:
        BadInput: it can't be read, or is not known here.
    """
    name, _, size = text.partition("=")
    return bar.glass(name).name, _wash_line(text, size, bar)


def _wash_line(text: str, size: str, bar: Bar) -> float:
    """The wash line in mL."""
    if not size.strip():
        remedy = "Write it like 'coupe=150 ml': to the line that it is filled to."
        raise BadInput(f"'{short(text)}' does not say how much it holds", remedy=remedy)
    found = parse(size, "volume", bar.measures)
    if found <= 0:
        raise BadInput(f"'{short(text)}' holds nothing", remedy="Write it like 'coupe=150 ml'.")
    return found
