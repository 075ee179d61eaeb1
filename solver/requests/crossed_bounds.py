"""What is asked on the other side of a profile's own bound, or at most on it."""

from __future__ import annotations

from collections.abc import Iterable

from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import From

BOUNDS = frozenset({DemandKind.LEAST, DemandKind.MOST})


def crossed_bounds(demands: Iterable[Demand]) -> tuple[Demand, Demand] | None:
    """A profile's bound, and what is asked on its other side or just on it; None where no two of
    the demands are that."""
    bounds = [demand for demand in demands if demand.measure is not None]
    for own in bounds:
        for asked in bounds:
            meets = own.measure is asked.measure and {own.kind, asked.kind} == BOUNDS
            mine = own.origin.kind is From.PROFILE is not asked.origin.kind
            past = (
                own.bound >= asked.bound
                if own.kind is DemandKind.LEAST
                else own.bound <= asked.bound
            )
            if meets and mine and past:
                return own, asked
    return None
