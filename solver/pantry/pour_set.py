"""Pour sets: the amounts that a bar's tools can measure."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field

from solver.files.checked import Model, Number, Text
from solver.pantry.figure import Basis
from solver.pantry.ingredient import Ingredient
from solver.pantry.vocabulary import kind_within
from solver.quantities import Measures, PourSpan

_SAME = 1e-9


class Steps(Model):
    """Amounts from `first` to `most`, `step` apart."""

    first: Number
    step: Annotated[Number, Field(gt=0)]
    most: Number

    def amounts(self) -> tuple[float, ...]:
        """Every amount, ascending."""
        count = int((self.most - self.first) / self.step + _SAME) + 1
        return tuple(self.first + k * self.step for k in range(count))


class PourSet(Model):
    """The tools of a bar. `unit` is that of `jigger` and `long`; pour_sets.toml has the rest."""

    name: Text
    says: Text
    unit: Literal["oz", "ml"]
    ounce_ml: Number
    jigger: Steps
    long: Steps
    long_kinds: tuple[Text, ...]
    dash: Steps
    spoon: Steps
    drop: Steps
    weigh: Steps
    piece: Steps
    basis: Basis
    source: Text

    def amounts(
        self,
        tool: str,
        kind: str,
        low: float,
        high: float,
        measures: Measures,
        *,
        piece_ml: float | None = None,
        fine: bool = False,
    ) -> tuple[float, ...]:
        """What `tool` can measure of something of `kind` between `low` and `high`, ascending.

        All in mL, or in g for the tool "weigh". The tool "piece" needs the size of one piece. With
        `fine` the jigger is filled as often as it takes, whatever is poured more coarsely by kind.
        """
        if tool == "jigger":
            unit = measures.ounce_ml if self.unit == "oz" else 1.0
            counts = self._filled(low / unit, high / unit) if fine else self._poured(kind)
        else:
            unit = self._size(tool, measures, piece_ml)
            counts = self._counts(tool).amounts()
        margin = _SAME * max(1.0, high)
        amounts = (count * unit for count in counts)
        return tuple(a for a in amounts if low - margin <= a <= high + margin)

    def step_of(self, tool: str, measures: Measures, *, piece_ml: float | None = None) -> float:
        """The least by which `tool` can pour more, in mL, or in g for the tool "weigh"."""
        if tool == "jigger":
            return self.jigger.step * (measures.ounce_ml if self.unit == "oz" else 1.0)
        return self._counts(tool).step * self._size(tool, measures, piece_ml)

    def _poured(self, kind: str) -> tuple[float, ...]:
        long = self.long.amounts()
        if any(kind_within(kind, coarse) for coarse in self.long_kinds):
            return long
        return self.jigger.amounts() + tuple(a for a in long if a > self.jigger.most + _SAME)

    def _filled(self, low: float, high: float) -> tuple[float, ...]:
        """Steps of the jigger from `low` to `high`, and no more than anything long has."""
        step, most = self.jigger.step, min(high, max(self.long.most, self.jigger.most))
        first = max(math.floor(low / step), math.ceil(self.jigger.first / step))
        return tuple(k * step for k in range(first, math.ceil(most / step) + 1))

    def _counts(self, tool: str) -> Steps:
        return {
            "dash": self.dash,
            "spoon": self.spoon,
            "drop": self.drop,
            "weigh": self.weigh,
            "piece": self.piece,
        }[tool]

    @staticmethod
    def _size(tool: str, measures: Measures, piece_ml: float | None) -> float:
        if tool == "piece" and piece_ml is None:
            msg = "counting needs the size of a piece"
            raise ValueError(msg)
        return {
            "dash": measures.dash_ml,
            "spoon": measures.bar_spoon_ml,
            "drop": measures.drop_ml,
            "weigh": 1.0,
            "piece": piece_ml or 0.0,
        }[tool]

    def amounts_of(
        self,
        ingredient: Ingredient,
        each: PourSpan,
        measures: Measures,
        tool: str | None = None,
        *,
        fine: bool = False,
    ) -> tuple[float, ...]:
        """What can be measured of `ingredient` within `each`, in its own unit, ascending.

        `tool` takes the place of the ingredient's own. Empty if the span counts what the
        ingredient is not measured in: grams of a liquid, ounces of sugar, pieces of rum.
        """
        used = tool or ingredient.tool
        if (used == "weigh") != (ingredient.per == "g"):
            return ()
        size = 1.0
        if each.unit == "piece" and ingredient.piece_ml is not None:
            size = ingredient.piece_ml
        elif each.unit != ingredient.per:
            return ()
        if used == "piece" and ingredient.piece_ml is None:
            return ()
        return self.amounts(
            used,
            ingredient.kind,
            each.low * size,
            each.high * size,
            measures,
            piece_ml=ingredient.piece_ml,
            fine=fine,
        )
