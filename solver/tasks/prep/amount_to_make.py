"""How much to make: an amount, a number of serves, or a multiple of the batch."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.spec import read_specs
from solver.printable import short
from solver.quantities import parse_number, parse_pour, show_volume

SERVE_OZ: Final = 0.75
"""What a drink pours of a syrup or juice where no spec of the bar says: what goes into a sour."""
EXAMPLE: Final = "1.5 L, 2 kg, 20 serves or 2x"
_TIMES = re.compile(r"(?:x|×)\s*(?P<of>.+)|(?P<count>.+?)\s*(?:x|×|times|batch|batches)", re.I)
_SERVES = re.compile(r"(?P<count>.+?)\s*(?:serve|serves|serving|servings|drinks?)", re.I)


@dataclass(frozen=True)
class AmountToMake:
    """An amount of what a batch makes, and the words for it; one of the three is given.

    `ml` and `g` are the amount, `times` is the number of batches.
    """

    said: str
    ml: float | None = None
    g: float | None = None
    times: float | None = None

    def factor(self, volume_ml: float, mass_g: float) -> float:
        """The ratio to a batch of this volume and weight."""
        if self.times is not None:
            return self.times
        return self.g / mass_g if self.g is not None else (self.ml or 0.0) / volume_ml


def read_amount(text: str, key: str, bar: Bar) -> AmountToMake:
    """Read an amount of the house ingredient called `key`.

    A serve is the largest pour of it in the bar's specs.

    Raises:
        BadInput, BadInputs: it can't be read or is nothing; a spec is wrong.
    """
    if match := _TIMES.fullmatch(text.strip()):
        times = _some(match["of"] or match["count"], text)
        return AmountToMake(f"{times:g} times the batch", times=times)
    if match := _SERVES.fullmatch(text.strip()):
        count, serve_ml = _some(match["count"], text), _serve_ml(key, bar)
        each = show_volume(serve_ml, bar.show, bar.measures)
        return AmountToMake(f"{count:g} serves of {each}", ml=count * serve_ml)
    pour = parse_pour(text, bar.measures, example=EXAMPLE)
    if pour.unit == "piece" or pour.value <= 0:
        raise _none(text)
    if pour.unit == "g":
        return AmountToMake(pour.said, g=pour.value)
    return AmountToMake(pour.said, ml=pour.value)


def _some(count: str, text: str) -> float:
    value = parse_number(count)
    if value <= 0:
        raise _none(text)
    return value


def _none(text: str) -> BadInput:
    return BadInput(f"'{short(text)}' is no amount to make", remedy=f"Write it like {EXAMPLE}.")


def _serve_ml(key: str, bar: Bar) -> float:
    poured = (
        pour.amount
        for spec in read_specs(bar.specs)
        for pour in spec.poured(bar.bottles, bar.measures)
        if pour.ingredient.key == key and pour.ingredient.per == "ml"
    )
    return max(poured, default=SERVE_OZ * bar.measures.ounce_ml)
