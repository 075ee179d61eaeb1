"""Reading quantities: text to a number in the quantity's own unit, or one sentence on why not."""

from __future__ import annotations

import enum
import re
from dataclasses import dataclass

from solver.errors import BadInput
from solver.quantities import units
from solver.quantities.numbers import clip, plain, wrong
from solver.quantities.sizes import Measures
from solver.quantities.units import find_unit
from solver.quantities.written import Expected, expect_unit, in_order, split_range, take_amount

_DEFAULT = Measures()


@enum.unique
class Quantity(enum.StrEnum):
    """What a number measures; each is read into one unit."""

    VOLUME = "volume"
    """mL."""
    MASS = "mass"
    """g."""
    STRENGTH = "strength"
    """% vol."""
    CONCENTRATION = "concentration"
    """g/100 mL; Brix is read as sucrose."""
    MONEY = "money"
    """In the bar's currency."""
    COUNT = "count"
    """A whole number."""
    POURS = "pours"
    """Usual pours, or a share of one."""
    ETHANOL = "ethanol"
    """g of ethanol; standard drinks are read too."""
    BRIX = "brix"
    """Brix: what a refractometer shows."""
    TIME = "time"
    """Minutes."""
    TEMPERATURE = "temperature"
    """°C; °F is read too, and what is below zero."""


_EXPECTED = {
    Quantity.VOLUME: Expected("a volume", (units.VOLUME,), "22.5 ml or 3/4 oz"),
    Quantity.MASS: Expected("a weight", (units.MASS,), "4 g"),
    Quantity.STRENGTH: Expected("a strength", (units.STRENGTH,), "17% or 34 proof"),
    Quantity.CONCENTRATION: Expected(
        "a concentration", (units.CONCENTRATION, units.BRIX), "6 g/100ml or 60 g/l"
    ),
    Quantity.MONEY: Expected("a price", (), "1.20"),
    Quantity.COUNT: Expected("a count", (), "3"),
    Quantity.POURS: Expected("a number of usual pours", (), "0.5..1"),
    Quantity.BRIX: Expected("a Brix", (units.BRIX,), "58 Brix"),
    Quantity.TIME: Expected("a time", (units.TIME,), "20 min"),
    Quantity.TEMPERATURE: Expected(
        "a temperature", (units.CELSIUS, units.FAHRENHEIT), "20 C or 68 F"
    ),
    Quantity.ETHANOL: Expected(
        "an amount of alcohol", (units.MASS, units.DRINKS), "14 g or 1 standard drink"
    ),
}
_BASE = {
    Quantity.VOLUME: "milliliter",
    Quantity.MASS: "gram",
    Quantity.STRENGTH: "percent_volume",
    Quantity.CONCENTRATION: "gram_per_100ml",
    Quantity.ETHANOL: "gram",
    Quantity.BRIX: "brix",
    Quantity.TIME: "minute",
}
_MOST = {Quantity.STRENGTH: 100.0, Quantity.CONCENTRATION: 200.0, Quantity.BRIX: 100.0}
"""Above these is a slip; crystal sugar itself is 159 g in 100 mL."""

_SYMBOLS = {"€": "EUR", "£": "GBP", "$": "USD", "¥": "JPY"}


@dataclass(frozen=True)
class Span:
    """An aim, or a range with either side open, in the quantity's own unit."""

    aim: float | None = None
    low: float | None = None
    high: float | None = None


def parse(text: str, quantity: str, measures: Measures = _DEFAULT, *, currency: str = "") -> float:
    """Read one value of `quantity` (see `Quantity`) into its own unit.

    `currency` is the code that a price may carry; a price in another is refused.

    Raises:
        BadInput: no number, the wrong unit or none, or out of the quantity's range.
    """
    return _value(text, text, Quantity(quantity), measures, currency)


def parse_span(
    text: str, quantity: str, measures: Measures = _DEFAULT, *, currency: str = ""
) -> Span:
    """Read an aim ("17%") or a range ("15..18%", "<=12%", ">= 45 ml", "15%..").

    A unit on one side of a range holds for both.

    Raises:
        BadInput: as `parse`, or the low end is above the high end.
    """
    kind = Quantity(quantity)
    ends = split_range(text, _EXPECTED[kind])
    if ends is None:
        return Span(aim=_value(text, text, kind, measures, currency))
    low, high = (_value(end, text, kind, measures, currency) if end else None for end in ends)
    in_order(low, high, text)
    return Span(low=low, high=high)


def is_mass(text: str) -> bool:
    """Whether a value or a range is written in a unit of mass: "5 g", "<=5 g", "3..5 g".

    What cannot be read is not; the reader of the quantity says what is wrong with it.
    """
    expected = _EXPECTED[Quantity.MASS]
    try:
        ends = split_range(text, expected) or (text,)
        found = [find_unit(take_amount(end, expected)[1]) for end in ends if end]
    except BadInput:
        return False
    return all(unit is not None and unit.dimension == units.MASS for unit in found)


def parse_number(text: str) -> float:
    """Read a bare number, such as a count of bottles: "1.5", "1 1/2", "½".

    Raises:
        BadInput: it does not begin with a number, or more than a number is there.
    """
    expected = Expected("a number", (), "1.5")
    value, rest = take_amount(text, expected)
    if rest:
        why = f"'{clip(rest)}' follows the number"
        raise wrong(text, "is not a number", why=why, remedy=expected.remedy)
    return value


def _value(written: str, text: str, kind: Quantity, measures: Measures, currency: str) -> float:
    expected = _EXPECTED[kind]
    if kind is Quantity.MONEY:
        # A currency may stand before its number, as no other unit does.
        written = re.sub(r"^\s*([€£$¥]|[A-Za-z]{3}(?=[\s0-9]))\s*(.*)$", r"\2 \1", written)
    below = -1.0 if kind is Quantity.TEMPERATURE and plain(written).startswith("-") else 1.0
    value, unit = take_amount(plain(written)[1:] if below < 0 else written, expected)
    if kind is Quantity.MONEY:
        return _money(value, unit, text, currency)
    if kind is Quantity.COUNT:
        return _count(value, unit, text)
    if kind is Quantity.POURS:
        return _pours(value, unit, text)
    found = expect_unit(unit, text, expected)
    if found.dimension == units.BRIX and kind is not Quantity.BRIX:
        return _brix(value, text)
    if kind is Quantity.TEMPERATURE:
        return below * value if found.dimension == units.CELSIUS else (below * value - 32.0) / 1.8
    converted = value * units.factor(found, _BASE[kind], measures)
    most = _MOST.get(kind)
    if most is not None and converted > most:
        raise wrong(
            text,
            f"is not {expected.article}",
            why=f"it comes to {converted:g}, and {most:g} is the most there can be",
        )
    return converted


def _money(value: float, unit: str, text: str, currency: str) -> float:
    code = _SYMBOLS.get(unit, unit.upper())
    if code and code != currency.upper():
        why = f"prices are in {currency}" if currency else "prices are plain numbers here"
        raise wrong(text, "is not a price", why=why, remedy=f"Write it like {value:g}.")
    return value


def _count(value: float, unit: str, text: str) -> float:
    if unit and unit.lower() not in {"ingredients", "ingredient", "bottles", "bottle"}:
        why = f"'{clip(unit)}' follows the number"
        raise wrong(text, "is not a count", why=why, remedy="Write a whole number, like 3.")
    if value != int(value):
        raise wrong(text, "is not a whole number", remedy="Write it like 3.")
    return value


def _pours(value: float, unit: str, text: str) -> float:
    if unit and not re.fullmatch(r"(of a )?(usual )?pours?", unit.lower()):
        why = f"'{clip(unit)}' follows the number"
        raise wrong(text, "is not a number of usual pours", why=why, remedy="Write it like 0.5.")
    return value


def _brix(value: float, text: str) -> float:
    if value > 100:
        why = "Brix is grams of sugar in a hundred grams"
        raise wrong(text, "is not a concentration", why=why, remedy="Write it like 50 Brix.")
    from solver.mixture.sucrose import grams_per_100ml

    return float(grams_per_100ml(value))
