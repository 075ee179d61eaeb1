"""Rows of a nonlinear term: its enclosures on all bins of its ratio, as one convex hull."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.search.enclosure import Line, RatioTerm
from solver.search.milp.disjunction import Bins
from solver.search.milp.outward_rows import Rows, Terms, add, minus, scale, value


def add_term(
    rows: Rows,
    term: RatioTerm,
    lines: tuple[Line, ...],
    numerator: Terms,
    denominator: Terms,
    *,
    most: float,
    resolution: float,
) -> Terms:
    """Add den · g(num/den) to the model, enclosed on each bin; returns the variable for it.

    `lines` are the enclosures, one for each bin; `most` bounds the denominator; `resolution` is the
    scale of the new variables.
    """
    highest = max(
        line.high + max(line.slope * line.left, line.slope * line.right) for line in lines
    )

    def lift(real: Sequence[float]) -> float:
        below = value(denominator, real)
        if below <= 0:
            return 0.0
        return below * float(term.function(np.array(value(numerator, real) / below)))

    result: Terms = {rows.real(term.name, most * max(highest, 0.0), resolution, lift): 1.0}
    shares = [(numerator, denominator)]
    if len(lines) > 1:
        shares = _shares(rows, term.name, lines, numerator, denominator, most, resolution)
    lower: list[Terms] = []
    upper: list[Terms] = []
    for line, (above, below) in zip(lines, shares, strict=True):
        rows.at_least(f"{term.name} bin", minus(above, scale(below, line.left)), 0.0)
        rows.at_most(f"{term.name} bin", minus(above, scale(below, line.right)), 0.0)
        lower.append(add(scale(above, line.slope), scale(below, line.low)))
        upper.append(add(scale(above, line.slope), scale(below, line.high)))
    rows.at_least(f"{term.name} low", minus(result, add(*lower)), 0.0)
    rows.at_most(f"{term.name} high", minus(result, add(*upper)), 0.0)
    return result


def _shares(
    rows: Rows,
    name: str,
    lines: tuple[Line, ...],
    numerator: Terms,
    denominator: Terms,
    most: float,
    resolution: float,
) -> list[tuple[Terms, Terms]]:
    """Numerator and denominator split over the bins of their ratio (convex hull)."""

    def chosen(real: Sequence[float]) -> int:
        below = value(denominator, real)
        ratio = value(numerator, real) / below if below > 0 else lines[0].left
        inside = (k for k, line in enumerate(lines) if ratio <= line.right)
        return next(inside, len(lines) - 1)

    bins = Bins(rows, name, len(lines), chosen)
    most_above = [most * max(line.right, 0.0) for line in lines]
    above = bins.split(f"{name} above", numerator, most_above, resolution)
    below = bins.split(f"{name} below", denominator, [most] * len(lines), resolution)
    return list(zip(above, below, strict=True))
