"""The units people write, by every spelling, and their conversion.

What is written every day stands in a table. What is not in it is looked up in the units library,
which takes longer to load than most commands take to answer, and is only loaded then; in the tests
it is the referee of the table.
"""

from __future__ import annotations

import difflib
import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

    from solver.quantities.sizes import Measures


@dataclass(frozen=True)
class WrittenUnit:
    """A unit as people write it.

    `size` is how many of the first unit of its dimension it is, or the field of `Measures` that
    says so; `words` are its spellings in lower case without spaces (the first is the one
    suggested), and `dimension` says in words what it measures.
    """

    name: str
    dimension: str
    size: float | str
    words: tuple[str, ...]

    def of(self, measures: Measures) -> float:
        """Its size in a bar."""
        return float(getattr(measures, self.size)) if isinstance(self.size, str) else self.size


VOLUME, MASS, STRENGTH, CONCENTRATION = "volume", "mass", "strength", "concentration"
OUNCE_G = 28.349523125
"""An avoirdupois ounce, by definition."""
PIECE, DRINKS, BRIX = "pieces", "standard drinks", "Brix"
TIME, CELSIUS, FAHRENHEIT = "time", "temperature", "temperature in Fahrenheit"

_UNITS = (
    WrittenUnit(
        "milliliter", VOLUME, 1.0,
        ("ml", "millilitre", "millilitres", "milliliter", "milliliters", "cc"),
    ),
    WrittenUnit("centiliter", VOLUME, 10.0, ("cl", "centilitre", "centilitres")),
    WrittenUnit("deciliter", VOLUME, 100.0, ("dl", "decilitre", "decilitres")),
    WrittenUnit(
        "liter", VOLUME, 1000.0, ("l", "litre", "litres", "liter", "liters", "ltr")
    ),
    WrittenUnit(
        "ounce", VOLUME, "ounce_ml",
        ("oz", "ounce", "ounces", "ozs"),
    ),
    WrittenUnit(
        "fluid_ounce", VOLUME, "ounce_ml", ("floz", "fl.oz", "fluidounce", "fluidounces")
    ),
    WrittenUnit("dash", VOLUME, "dash_ml", ("dashes", "dash")),
    WrittenUnit(
        "bar_spoon", VOLUME, "bar_spoon_ml",
        ("barspoons", "barspoon", "bar-spoon", "bar-spoons", "bsp"),
    ),
    WrittenUnit("drop", VOLUME, "drop_ml", ("drops", "drop")),
    WrittenUnit("splash", VOLUME, "splash_ml", ("splash", "splashes")),
    # A sixteenth of a teaspoon: common practice, no source.
    WrittenUnit("pinch", VOLUME, 0.308, ("pinch", "pinches", "pinchof", "pinchesof")),
    WrittenUnit(
        "teaspoon", VOLUME, "teaspoon_ml", ("tsp", "teaspoon", "teaspoons", "tsps")
    ),
    WrittenUnit(
        "tablespoon", VOLUME, "tablespoon_ml",
        ("tbsp", "tablespoon", "tablespoons", "tbsps"),
    ),
    WrittenUnit("cup", VOLUME, "cup_ml", ("cups", "cup")),
    WrittenUnit(
        "gram", MASS, 1.0, ("g", "gram", "grams", "gramme", "grammes", "gr", "gm")
    ),
    WrittenUnit("kilogram", MASS, 1000.0, ("kg", "kilogram", "kilograms", "kilo", "kilos")),
    WrittenUnit("milligram", MASS, 0.001, ("mg", "milligram", "milligrams")),
    WrittenUnit("pound", MASS, 453.59237, ("lb", "lbs", "pound", "pounds")),
    WrittenUnit(
        "sugar_cube", MASS, "sugar_cube_g", ("cubes", "cube", "sugarcube", "sugarcubes")
    ),
    WrittenUnit(
        "percent_volume", STRENGTH, 1.0,
        (
            "%", "%vol", "%abv", "%vol.", "%v/v", "abv", "vol%", "vol.%", "percent", "per cent",
            "%byvolume", "percentabv", "percentvol", "percentbyvolume", "%alc", "%alc/vol",
        ),
    ),
    WrittenUnit("proof", STRENGTH, 0.5, ("proof", "usproof", "°proof")),
    WrittenUnit(
        "gram_per_100ml", CONCENTRATION, 1.0,
        ("g/100ml", "gper100ml", "gramsper100ml", "g/dl", "%w/v", "g/100mls"),
    ),
    WrittenUnit(
        "gram_per_liter", CONCENTRATION, 0.1,
        ("g/l", "gperl", "gramsperlitre", "gramsperliter", "g/litre", "g/liter"),
    ),
    WrittenUnit("gram_per_ml", CONCENTRATION, 100.0, ("g/ml", "gperml")),
    WrittenUnit("brix", BRIX, 1.0, ("brix", "°brix", "°bx", "bx", "degreesbrix")),
    WrittenUnit("minute", TIME, 1.0, ("min", "minutes", "minute", "mins")),
    WrittenUnit("second", TIME, 1 / 60, ("s", "seconds", "second", "sec")),
    WrittenUnit("hour", TIME, 60.0, ("h", "hours", "hour", "hr", "hrs")),
    WrittenUnit("day", TIME, 1440.0, ("days", "day", "d")),
    WrittenUnit("celsius", CELSIUS, 1.0, ("c", "°c", "celsius", "degreesc")),
    WrittenUnit("fahrenheit", FAHRENHEIT, 1.0, ("f", "°f", "fahrenheit", "degreesf")),
    WrittenUnit("piece", PIECE, 1.0, (
        "pieces", "piece", "pc", "pcs", "whole", "each", "ea", "stück", "stueck", "stk",
    )),
    *(
        WrittenUnit(cut, PIECE, 1.0, (many, cut, f"{many}of", f"{cut}of"))
        for cut, many in (
            ("leaf", "leaves"), ("half", "halves"),
            *((each, f"{each}s") for each in (
                "sprig", "wedge", "wheel", "slice", "peel", "stick", "pod", "stalk", "spear",
                "ribbon", "frond", "grating", "rim", "star", "bean", "clove", "thumb",
                "knob",
            )),
            ("berry", "berries"),
        )
    ),
    WrittenUnit("bouquet", PIECE, 1.0, (
        "bouquets", "bouquet", "bouquetsof", "bouquetof", "bunches", "bunch", "bunchesof",
        "bunchof",
    )),
    WrittenUnit(
        "standard_drink", DRINKS, "standard_drink_g",
        ("standarddrinks", "standarddrink", "drinks", "drink", "std.drinks"),
    ),
)  # fmt: skip

_BY_WORD = {word.replace(" ", ""): unit for unit in _UNITS for word in unit.words}
_BY_NAME = {unit.name: unit for unit in _UNITS}


def find_unit(text: str) -> WrittenUnit | None:
    """The unit that `text` writes, whatever its case, spaces and final full stop."""
    word = "".join(text.split()).lower()
    return _BY_WORD.get(word) or _BY_WORD.get(word.removesuffix(".")) or _unusual(text)


def plural(name: str) -> str:
    """The word for several of a unit, by its name."""
    return _BY_NAME[name].words[0]


def near_units(text: str) -> tuple[str, ...]:
    """Spellings close to `text`, nearest first."""
    word = "".join(text.split()).lower()
    return tuple(difflib.get_close_matches(word, _BY_WORD, n=2, cutoff=0.6))


def factor(unit: WrittenUnit, into: str, measures: Measures) -> float:
    """How many of the unit called `into` one `unit` is; both are of one dimension."""
    if unit.name == into:
        return 1.0
    return unit.of(measures) / _BY_NAME[into].of(measures)


@functools.cache
def _unusual(text: str) -> WrittenUnit | None:
    """A measure of the kitchen or the cellar that nobody pours a drink with: a quart, a gill."""
    word = " ".join(text.lower().removesuffix(".").split())
    name = _RARE.get(word.removesuffix("s")) or _RARE.get(word)
    if name is None:
        return None
    found = _library().Quantity(1.0, name)
    dimension = next(d for d, base in _LIBRARY_BASES.items() if found.is_compatible_with(base))
    return WrittenUnit(name, dimension, float(found.m_as(_LIBRARY_BASES[dimension])), (word,))


_RARE = {
    "gill": "gill", "pint": "pint", "pt": "pint", "quart": "quart", "qt": "quart",
    "gallon": "gallon", "gal": "gallon", "imperial pint": "imperial_pint",
    "imperial quart": "imperial_quart", "imperial gallon": "imperial_gallon",
    "imperial gill": "imperial_gill", "stone": "stone",
}  # fmt: skip
"""Their names in the units library; what is not called imperial is of the United States."""
_LIBRARY_BASES = {VOLUME: "milliliter", MASS: "gram"}


@functools.cache
def _library() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry()
