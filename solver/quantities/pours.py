"""Reading pours: an amount of one ingredient, as it is measured at the bar."""

from __future__ import annotations

import enum
from dataclasses import dataclass, replace

from solver.quantities import units
from solver.quantities.numbers import plain, wrong
from solver.quantities.sizes import TRADE_ROUNDING, Measures
from solver.quantities.written import Expected, expect_unit, in_order, split_range, take_amount

_DEFAULT = Measures()


@enum.unique
class Unit(enum.StrEnum):
    """What the number of a pour counts."""

    ML = "ml"
    G = "g"
    PIECE = "piece"


@dataclass(frozen=True)
class WrittenAmount:
    """One amount as it was written: `value` in `unit`, and the words it was given in.

    `tool` is what measures it as it was given: "jigger" for ounces and millilitres, which a bar may
    say in its own unit; "dash", "spoon", "drop"; "" for what has no tool of its own. `cut` is the
    word for one of what is counted, "leaf" or "sugar_cube"; "" for a whole piece.
    """

    value: float
    unit: Unit
    said: str
    tool: str = ""
    cut: str = ""


@dataclass(frozen=True)
class PourSpan:
    """A range of amounts, both ends in `unit`, as it was written; `tool` as in `WrittenAmount`."""

    low: float
    high: float
    unit: Unit
    said: str
    tool: str = ""

    @property
    def traded(self) -> PourSpan:
        """The same range with what the trade says of its ends: 1 1/2 oz takes 45 mL in too."""
        low, high = self.low * (1 - TRADE_ROUNDING), self.high * (1 + TRADE_ROUNDING)
        return replace(self, low=low, high=high)


_UNITS = {units.VOLUME: Unit.ML, units.MASS: Unit.G, units.PIECE: Unit.PIECE}
_BASE = {Unit.ML: "milliliter", Unit.G: "gram", Unit.PIECE: "piece"}
_TOOLS = dict.fromkeys(("milliliter", "centiliter", "deciliter", "liter", "ounce"), "jigger")
_TOOLS |= {"dash": "dash", "bar_spoon": "spoon", "drop": "drop"}
_CUBE = "sugar_cube"
_EXPECTED = Expected("a pour", tuple(_UNITS), "3/4 oz, 22.5 ml, 2 dashes or 4 g")


def parse_pour(text: str, measures: Measures = _DEFAULT, *, example: str = "") -> WrittenAmount:
    """Read one pour: "2 oz", "22.5 ml", "2 dashes", "1 bar spoon", "4 g", "1 cube", "8 leaves".

    An `example` of what else may be written makes it any amount, in what is said of a mistake.

    Raises:
        BadInput: no number, or a unit that nothing is poured in.
    """
    expected = replace(_EXPECTED, article="an amount", example=example) if example else _EXPECTED
    value, unit, found = _poured(text, text, measures, expected)
    cut = found if found == _CUBE or (unit is Unit.PIECE and found != _BASE[unit]) else ""
    return WrittenAmount(value, unit, plain(text), _TOOLS.get(found, ""), cut)


def parse_pour_span(text: str, measures: Measures = _DEFAULT) -> PourSpan:
    """Read the range of a pour, "3/4..2 oz" or "1..3 dashes"; a single amount is both ends.

    Raises:
        BadInput: as `parse_pour`; an end is missing, the ends are in units that don't compare, or
            the low end is above the high end.
    """
    ends = split_range(text, _EXPECTED)
    if ends is None:
        value, unit, found = _poured(text, text, measures)
        return PourSpan(value, value, _uncut(unit, found, text), plain(text), _TOOLS.get(found, ""))
    if not all(ends):
        raise wrong(text, "leaves one end of the pour open", remedy="Give both, like 3/4..2 oz.")
    (low, unit, one), (high, other, two) = (_poured(end, text, measures) for end in ends)
    if unit is not other:
        why = f"one end is in {unit}, the other in {other}"
        raise wrong(text, "mixes two kinds of measure", why=why)
    in_order(low, high, text)
    tool, its = _TOOLS.get(one, ""), _TOOLS.get(two, "")
    said = plain(text)
    return PourSpan(low, high, _uncut(unit, one, text), said, tool if tool == its else "")


def _uncut(unit: Unit, found: str, text: str) -> Unit:
    """The unit of a range, which counts whole pieces alone."""
    if unit is Unit.PIECE and found != _BASE[unit]:
        why = "how much a cut piece weighs depends on what it is"
        raise wrong(text, "is not a range of pours", why=why, remedy="Write it like 2..4 g.")
    return unit


def _poured(
    written: str, text: str, measures: Measures, expected: Expected = _EXPECTED
) -> tuple[float, Unit, str]:
    """The number in a base unit, which that is, and the name of the unit it was written in."""
    value, unit = take_amount(written, expected)
    found = expect_unit(unit, text, expected)
    poured = _UNITS[found.dimension]
    converted = value * units.factor(found, _BASE[poured], measures)
    return converted, poured, found.name


def say_pieces(number: str, cut: str) -> str:
    """So many of a cut, as `parse_pour` reads it: "8 leaves", "1 wedge"."""
    if number == "1" or "/" in number:
        return f"{number} {cut}"
    return f"{number} {units.plural(cut)}"
