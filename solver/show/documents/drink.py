"""What every document says of a drink, before ice and in the glass."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.measures import MEASURES, Form
from solver.mixture.blend import Finished
from solver.mixture.drink import MixedDrink


def drink_fields(drink: MixedDrink, values: Mapping[str, float | None]) -> dict[str, Any]:
    """Its fields `before_ice` and `finished`; `values` are the measures in the glass by name."""
    in_glass = {m.key: values[m.name] for m in MEASURES.values() if m.form is not Form.COUNT}
    return {
        "before_ice": measured_fields(drink.before),
        "finished": {
            **in_glass,
            "melt_ml": float(drink.melt_ml),
            "dilution_pct": float(drink.dilution_pct),
        },
    }


def measured_fields(finished: Finished) -> dict[str, float]:
    """The four measures that every document states of a liquid, as numbers."""
    return {
        "volume_ml": float(finished.volume_ml),
        "abv_pct": float(finished.abv_pct),
        "sugar_g_100ml": float(finished.sugar_g_100ml),
        "acid_g_100ml": float(finished.acid_g_100ml),
    }
