"""A limit on a measure and a value of one, in words."""

from __future__ import annotations

from solver.measures import Measure
from solver.search.problem import Limit


def limit_range(limit: Limit, currency: str) -> str:
    """Its range with the unit: "12..22 % vol", "at most 150 mL"."""
    said = span_words(limit.measure, limit.low, limit.high)
    return f"{said} {limit.measure.unit_in(currency)}".rstrip()


def span_words(measure: Measure, low: float | None, high: float | None) -> str:
    """A range in words, None for an open end: "12..22", "at most 22", "at least 12"."""
    least, most = (None if end is None else measure.number(end) for end in (low, high))
    if least is None:
        return "any" if most is None else f"at most {most}"
    return f"at least {least}" if most is None else f"{least}..{most}"


def measured_words(measure: Measure, value: float, currency: str) -> str:
    """What a measure comes to, in its own places and with its unit: "17.0 % vol"."""
    if measure.tags:
        return measure.amount(value)
    return f"{value:.{measure.decimals}f} {measure.unit_in(currency)}".rstrip()
