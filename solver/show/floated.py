"""The two drinks that one with a float is, in a line and as fields."""

from __future__ import annotations

from typing import Any

from solver.drinks.floated import Floated
from solver.measures import MEASURES
from solver.mixture.blend import Finished
from solver.show.names_in_a_row import listed, short_name

_TOLD = ("abv", "sugar", "acid", "volume")


def under_of(under: Finished) -> dict[str, float]:
    """What is under a float, by the name of each measure that is told of it."""
    return {
        "abv": float(under.abv_pct),
        "sugar": float(under.sugar_g_100ml),
        "acid": float(under.acid_g_100ml),
        "volume": float(under.volume_ml),
    }


def float_lines(found: Floated | None) -> list[str]:
    """At most one line: what is drunk first, where the numbers above it are of all of it, mixed."""
    if found is None:
        return []
    values = under_of(found.under)
    said = ", ".join(
        f"{'' if name in {'abv', 'volume'} else f'{measure.label} '}"
        f"{values[name]:.{measure.decimals}f} {measure.unit}"
        for name, measure in ((name, MEASURES[name]) for name in _TOLD)
    )
    return [f"Under the {listed(map(short_name, found.items))}: {said}; above, all of it mixed."]


def float_fields(found: Floated | None) -> dict[str, Any] | None:
    """The same for programs."""
    if found is None:
        return None
    values = under_of(found.under)
    return {
        "float": [item.key for item in found.items],
        **{MEASURES[name].key: values[name] for name in _TOLD},
    }
