"""Amounts of a batch in a kitchen's steps: of a jug or a scale, and in whole bottles."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from solver.errors import BadInput
from solver.mixture.blend import mass_g
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour
from solver.printable import short
from solver.quantities import Measures, parse_pour
from solver.tasks.prep.scale_batch import scale_grams

COARSEST: Final = 100.0


@dataclass(frozen=True)
class ScaleStep:
    """The measuring step for liquids: mL of a jug, or grams of a scale."""

    size: float = 1.0
    weighed: bool = False

    @property
    def unit(self) -> str:
        """The unit of the amounts."""
        return "g" if self.weighed else "mL"

    def rounded(self, amount: float) -> float:
        """An amount rounded to the step; one below a step is left as it is."""
        return scale_grams(amount, self.size) or amount


ML_STEP: Final = ScaleStep()


@dataclass(frozen=True)
class MeasuredAmount:
    """One pour of the batch.

    `amount` is in `unit`, "mL" or "g"; `units` is the same in the ingredient's own unit. `bottles`
    whole bottles of the shelf's size are in it, and `rest` mL (or g of what is weighed) beside
    them.
    """

    line: Pour
    amount: float
    unit: str
    units: float
    bottles: int
    rest: float

    @property
    def times(self) -> float:
        """The ratio to the pour of a single drink."""
        return self.units / self.line.amount


def read_step(text: str, measures: Measures) -> ScaleStep:
    """Read a step like "5 ml" or "1 g".

    Raises:
        BadInput: it can't be read, is nothing, or far too coarse.
    """
    pour = parse_pour(text, measures, example="5 ml or 1 g")
    if pour.unit == "piece" or not 0 < pour.value <= COARSEST:
        what = f"'{short(text)}' is no step of a jug or a scale"
        raise BadInput(what, remedy="Write it like 5 ml or 1 g.")
    return ScaleStep(pour.value, weighed=pour.unit == "g")


def measured(line: Pour, serves: float, step: ScaleStep, bar: Bar) -> MeasuredAmount:
    """A pour times the serves, rounded to the step; dry ingredients are always weighed."""
    item = line.ingredient
    wanted = line.amount * serves
    if item.per == "g":
        scale = step if step.weighed else ScaleStep(min(step.size, 1.0))
        amount = units = scale.rounded(wanted)
        unit = "g"
    elif step.weighed:
        density = float(mass_g(item.composition()))
        amount, unit = step.rounded(wanted * density), "g"
        units = amount / density
    else:
        amount = units = step.rounded(wanted)
        unit = "mL"
    row = bar.stocked(item.key)
    bottle = row.bottle if row else None
    bottles = int(units // bottle) if bottle else 0
    rest = units - bottles * bottle if bottle else units
    return MeasuredAmount(line, amount, unit, units, bottles, rest)


def order_to_pour(lines: Iterable[MeasuredAmount]) -> tuple[MeasuredAmount, ...]:
    """The pouring order: dry first, then small amounts, syrups, and the most expensive last."""
    return tuple(sorted(lines, key=lambda each: (_rank(each), each.units)))


def _rank(each: MeasuredAmount) -> int:
    item = each.line.ingredient
    if item.per == "g":
        return 0
    if any(map(item.is_kind, ("bitters", "seasoning", "spirit/anise"))):
        return 1
    if any(map(item.is_kind, ("syrup", "acid", "water", "brew"))):
        return 2
    return 4 if item.is_kind("spirit") else 3
