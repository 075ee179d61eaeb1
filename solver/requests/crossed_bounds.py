"""Bounds asked for that leave nothing, or a single value, between them and the profile's own."""

from __future__ import annotations

from collections.abc import Iterable

from solver.requests.demands import Demand, DemandKind
from solver.requests.origin import From

BOUNDS = frozenset({DemandKind.LEAST, DemandKind.MOST})


def crossed_bounds(demands: Iterable[Demand]) -> tuple[Demand, Demand] | None:
    """A bound of the profile and one asked for that cross or touch it; None if there are no such
    two."""
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
