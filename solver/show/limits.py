"""A limit on a measure, as people and programs read it."""

from __future__ import annotations

from typing import Any

from solver.search.problem import Limit


def limit_range(limit: Limit, currency: str) -> str:
    """Its range with the unit: "12..22 % vol", "at most 150 mL"."""
    return f"{span_words(limit.low, limit.high)} {limit.measure.unit_in(currency)}".rstrip()


def span_words(low: float | None, high: float | None) -> str:
    """A range in words, None for an open end: "12..22", "at most 22", "at least 12"."""
    if low is None:
        return "any" if high is None else f"at most {high:g}"
    return f"at least {low:g}" if high is None else f"{low:g}..{high:g}"


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
