"""A limit on a measure, as people and programs read it."""

from __future__ import annotations

from typing import Any

from solver.search.problem import Limit


def limit_range(limit: Limit) -> str:
    """Its range with the unit: "12..22 % vol", "..150 mL"."""
    low = "" if limit.low is None else f"{limit.low:g}"
    high = "" if limit.high is None else f"{limit.high:g}"
    return f"{low}..{high} {limit.measure.unit}".rstrip()


def limit_fields(limit: Limit, value: float | None) -> dict[str, Any]:
    """What every document says of a limit; `value` None where there is no drink, or no price."""
    return {
        "name": limit.name,
        "measure": limit.measure.name,
        "low": limit.low,
        "high": limit.high,
        "unit": limit.measure.unit,
        "value": value,
    }
