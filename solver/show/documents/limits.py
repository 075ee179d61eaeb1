"""A limit on a measure."""

from __future__ import annotations

from typing import Any

from solver.search.problem import Limit


def limit_fields(limit: Limit, value: float | None, currency: str = "") -> dict[str, Any]:
    """What every document says of a limit; `value` None where there is no drink, or no price."""
    return {
        "name": limit.name,
        "measure": limit.measure.name,
        "low": limit.low,
        "high": limit.high,
        "unit": limit.measure.unit_in(currency),
        "value": value,
    }
