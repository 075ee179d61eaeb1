"""What serves of a spec take from the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from solver.pantry.bar import Bar
from solver.pantry.garnish import GarnishTaken
from solver.pantry.spec import Spec


@dataclass(frozen=True)
class Serve:
    """What one serve takes, by key, in the ingredient's own unit: mL, or g of what is weighed.

    `garnish` is what is known of the garnish; its `uncounted` words name what has no known weight.
    """

    poured: Mapping[str, float]
    garnish: GarnishTaken

    @property
    def amounts(self) -> Mapping[str, float]:
        """Pours and garnish together, pours first."""
        return _summed([self.poured, self.garnish.amounts])


def one_serve(spec: Spec, bar: Bar) -> Serve:
    """What one serve of a spec takes from the shelf of a bar.

    Raises:
        BadInput, BadInputs: a pour can't be read or is not known, with its line.
    """
    poured = ({p.ingredient.key: p.amount} for p in spec.poured(bar.bottles, bar.measures))
    garnish = bar.garnishes.taken(spec.garnish) if spec.garnish else GarnishTaken({})
    return Serve(_summed(poured), garnish)


def serves(sold: Iterable[tuple[Serve, float]]) -> Mapping[str, float]:
    """The total that several serves of several drinks take, by key."""
    return _summed({key: n * each for key, each in s.amounts.items()} for s, n in sold)


def _summed(parts: Iterable[Mapping[str, float]]) -> dict[str, float]:
    total: dict[str, float] = {}
    for part in parts:
        for key, amount in part.items():
            total[key] = total.get(key, 0.0) + amount
    return total
