"""What is not certain about a drink."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.drinks.uncertainty import MeltSpread, Uncertainty
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour
from solver.show.documents.drink import measured_fields


def not_cooked_fields(pours: Sequence[Pour], bar: Bar) -> list[str]:
    """What of a drink was never cooked, by key, for programs."""
    keys = (pour.ingredient.key for pour in pours)
    return list(dict.fromkeys(key for key in keys if key in bar.uncooked))


def uncertain_fields(found: Uncertainty) -> dict[str, Any]:
    """The same for programs."""
    return {
        "volume_error_pct": found.volume_error_pct,
        "own_melt": found.own_melt,
        "melt": None if found.melt is None else _melt_fields(found.melt),
    }


def _melt_fields(spread: MeltSpread) -> dict[str, Any]:
    technique = spread.technique
    return {
        "least": {"factor": technique.spread_low, **measured_fields(spread.least)},
        "most": {"factor": technique.spread_high, **measured_fields(spread.most)},
        "basis": technique.basis,
        "source": technique.source,
    }
