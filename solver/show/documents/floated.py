"""The two drinks that one with a float is."""

from __future__ import annotations

from typing import Any

from solver.drinks.floated import Floated
from solver.measures import MEASURES
from solver.show.text.floated import TOLD, under_of


def float_fields(found: Floated | None) -> dict[str, Any] | None:
    """The same for programs."""
    if found is None:
        return None
    values = under_of(found.under)
    return {
        "float": [item.key for item in found.items],
        **{MEASURES[name].key: values[name] for name in TOLD},
    }
