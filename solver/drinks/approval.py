"""Approve a drink: record what it is in the glass, and see later what has moved since."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass

from solver.measures import MEASURES, Measure
from solver.pantry.spec import Approved

NOTICED = 0.5
"""Noticeable differences below which a measure counts as unchanged: our own choice."""


def approved_profile(
    values: Mapping[str, float | None], on: datetime.date, currency: str
) -> Approved:
    """The values to record for a drink at its approval, from its measures in the glass by name.

    One decimal more than is shown.
    """
    record: dict[str, object] = {"date": on}
    for measure in _recorded():
        value = values[measure.name]
        if value is not None:
            record[measure.key] = round(value, measure.decimals + 1)
    if currency and "cost" in record:
        record["currency"] = currency
    return Approved.model_validate(record)


@dataclass(frozen=True)
class Moved:
    """A measure that differs from its approved value."""

    measure: Measure
    approved: float
    now: float


def moved(approved: Approved, values: Mapping[str, float | None], currency: str) -> list[Moved]:
    """Measures that differ from their approved values by at least `NOTICED` noticeable differences.

    Prices in another currency are not compared.
    """
    found: list[Moved] = []
    for measure in _recorded():
        then, now = getattr(approved, measure.key), values[measure.name]
        if then is None or now is None:
            continue
        if measure.name == "cost" and (approved.currency or "") != currency:
            continue
        if abs(now - then) >= NOTICED * measure.tolerance(then):
            found.append(Moved(measure, then, now))
    return found


def _recorded() -> list[Measure]:
    return [m for m in MEASURES.values() if m.key in Approved.model_fields]
