"""The units people write, by every spelling, and their conversion.

One registry of the units library per bar, built at the first conversion that needs it.
"""

from __future__ import annotations

import difflib
import functools
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

    from solver.quantities.sizes import Measures


@dataclass(frozen=True)
class WrittenUnit:
    """A unit as people write it.

    `definition` is in the units library's notation with the sizes of `Measures` in braces, `words`
    are its spellings in lower case without spaces (the first is the one suggested), and `dimension`
    says in words what it measures.
    """

    name: str
    dimension: str
    definition: str
    words: tuple[str, ...]


VOLUME, MASS, STRENGTH, CONCENTRATION = "volume", "mass", "strength", "concentration"
PIECE, DRINKS, BRIX = "pieces", "standard drinks", "Brix"
TIME, CELSIUS, FAHRENHEIT = "time", "temperature", "temperature in Fahrenheit"

_UNITS = (
    WrittenUnit(
        "milliliter", VOLUME, "[volume]",
        ("ml", "millilitre", "millilitres", "milliliter", "milliliters", "cc"),
    ),
    WrittenUnit("centiliter", VOLUME, "10 milliliter", ("cl", "centilitre", "centilitres")),
    WrittenUnit("deciliter", VOLUME, "100 milliliter", ("dl", "decilitre", "decilitres")),
    WrittenUnit(
        "liter", VOLUME, "1000 milliliter", ("l", "litre", "litres", "liter", "liters", "ltr")
    ),
    WrittenUnit(
        "ounce", VOLUME, "{ounce_ml} milliliter",
        ("oz", "ounce", "ounces", "ozs", "floz", "fl.oz", "fluidounce", "fluidounces"),
    ),
    WrittenUnit("dash", VOLUME, "{dash_ml} milliliter", ("dashes", "dash")),
    WrittenUnit(
        "bar_spoon", VOLUME, "{bar_spoon_ml} milliliter",
        ("barspoons", "barspoon", "bar-spoon", "bar-spoons", "bsp"),
    ),
    WrittenUnit("drop", VOLUME, "{drop_ml} milliliter", ("drops", "drop")),
    WrittenUnit("splash", VOLUME, "{splash_ml} milliliter", ("splash", "splashes")),
    WrittenUnit(
        "teaspoon", VOLUME, "{teaspoon_ml} milliliter", ("tsp", "teaspoon", "teaspoons", "tsps")
    ),
    WrittenUnit(
        "tablespoon", VOLUME, "{tablespoon_ml} milliliter",
        ("tbsp", "tablespoon", "tablespoons", "tbsps"),
    ),
    WrittenUnit("cup", VOLUME, "{cup_ml} milliliter", ("cups", "cup")),
    WrittenUnit(
        "gram", MASS, "[mass]", ("g", "gram", "grams", "gramme", "grammes", "gr", "gm")
    ),
    WrittenUnit("kilogram", MASS, "1000 gram", ("kg", "kilogram", "kilograms", "kilo", "kilos")),
    WrittenUnit("milligram", MASS, "0.001 gram", ("mg", "milligram", "milligrams")),
    WrittenUnit("pound", MASS, "453.59237 gram", ("lb", "lbs", "pound", "pounds")),
    WrittenUnit(
        "sugar_cube", MASS, "{sugar_cube_g} gram", ("cubes", "cube", "sugarcube", "sugarcubes")
    ),
    WrittenUnit(
        "percent_volume", STRENGTH, "[strength]",
        (
            "%", "%vol", "%abv", "%vol.", "%v/v", "abv", "vol%", "vol.%", "percent", "per cent",
            "%byvolume", "percentabv", "percentvol", "percentbyvolume", "%alc", "%alc/vol",
        ),
    ),
    WrittenUnit("proof", STRENGTH, "0.5 percent_volume", ("proof", "usproof", "°proof")),
    WrittenUnit(
        "gram_per_100ml", CONCENTRATION, "gram / 100 / milliliter",
        ("g/100ml", "gper100ml", "gramsper100ml", "g/dl", "%w/v", "g/100mls"),
    ),
    WrittenUnit(
        "gram_per_liter", CONCENTRATION, "gram / 1000 / milliliter",
        ("g/l", "gperl", "gramsperlitre", "gramsperliter", "g/litre", "g/liter"),
    ),
    WrittenUnit("gram_per_ml", CONCENTRATION, "gram / milliliter", ("g/ml", "gperml")),
    WrittenUnit("brix", BRIX, "[brix]", ("brix", "°brix", "°bx", "bx", "degreesbrix")),
    WrittenUnit("minute", TIME, "[time]", ("min", "minutes", "minute", "mins")),
    WrittenUnit("second", TIME, "minute / 60", ("s", "seconds", "second", "sec")),
    WrittenUnit("hour", TIME, "60 minute", ("h", "hours", "hour", "hr", "hrs")),
    WrittenUnit("day", TIME, "1440 minute", ("days", "day", "d")),
    WrittenUnit("celsius", CELSIUS, "[celsius]", ("c", "°c", "celsius", "degreesc")),
    WrittenUnit("fahrenheit", FAHRENHEIT, "[fahrenheit]", ("f", "°f", "fahrenheit", "degreesf")),
    WrittenUnit("piece", PIECE, "[piece]", ("pieces", "piece", "pc", "pcs", "whole")),
    WrittenUnit(
        "standard_drink", DRINKS, "{standard_drink_g} gram",
        ("standarddrinks", "standarddrink", "drinks", "drink", "std.drinks"),
    ),
)  # fmt: skip

_BY_WORD = {word.replace(" ", ""): unit for unit in _UNITS for word in unit.words}
_BY_NAME = {unit.name: unit for unit in _UNITS}


def find_unit(text: str) -> WrittenUnit | None:
    """The unit that `text` writes, whatever its case, spaces and final full stop."""
    word = "".join(text.split()).lower()
    return _BY_WORD.get(word) or _BY_WORD.get(word.removesuffix("."))


def near_units(text: str) -> tuple[str, ...]:
    """Spellings close to `text`, nearest first."""
    word = "".join(text.split()).lower()
    return tuple(difflib.get_close_matches(word, _BY_WORD, n=2, cutoff=0.6))


@functools.cache
def _registry(measures: Measures) -> pint.UnitRegistry[float]:
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(None)
    for unit in _UNITS:
        registry.define(f"{unit.name} = {unit.definition.format(**asdict(measures))}")
    return registry


@functools.cache
def factor(unit: str, into: str, measures: Measures) -> float:
    """How many of the unit `into` one `unit` is, both by name and of one dimension."""
    if unit == into:
        return 1.0
    return float(_registry(measures).Quantity(1.0, unit).m_as(into))
