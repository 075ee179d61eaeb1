"""A disjunction over bins as its convex hull (Balas, Annals of Discrete Mathematics 5, 1979).

Each expression that is split is disaggregated into one variable for each bin: all of it in the
chosen bin, 0 elsewhere. Rows of a bin are written on its own variables. Measured much tighter than
big-M rows.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from solver.search.milp.outward_rows import Lift, Rows, Terms, add, minus, value

BinOfDrink = Callable[[Sequence[float]], int]
"""The bin that a drink lies in, from the real values of the variables."""


class Bins:
    """`count` bins, one of which is chosen; `switches` say which."""

    def __init__(self, rows: Rows, name: str, count: int, chosen: BinOfDrink) -> None:
        self.rows = rows
        self.name = name
        self.chosen = chosen
        self.switches = [
            rows.yes_or_no(f"{name} in bin {index}", self._selected(index))
            for index in range(count)
        ]
        rows.equal(f"{name} one bin", dict.fromkeys(self.switches, 1.0), 1.0)

    def split(self, name: str, terms: Terms, most: Sequence[float], scale: float) -> list[Terms]:
        """The shares of an expression, at most `most` in each bin; they add up to it."""
        shares: list[Terms] = [
            {self.rows.real(f"{name} {index}", high, scale, self._share(terms, index)): 1.0}
            for index, high in enumerate(most)
        ]
        for share, switch, high in zip(shares, self.switches, most, strict=True):
            self.rows.at_most(f"{name} switched", add(share, {switch: -high}), 0.0)
        self.rows.equal(name, minus(add(*shares), terms), 0.0)
        return shares

    def _selected(self, index: int) -> Lift:
        return lambda real: float(self.chosen(real) == index)

    def _share(self, terms: Terms, index: int) -> Lift:
        return lambda real: value(terms, real) if self.chosen(real) == index else 0.0
