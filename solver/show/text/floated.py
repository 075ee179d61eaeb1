"""The two drinks that one with a float is, in a line."""

from __future__ import annotations

from solver.drinks.floated import Floated
from solver.measures import MEASURES
from solver.mixture.blend import Finished
from solver.show.words.names_in_a_row import listed, short_name

TOLD = ("abv", "sugar", "acid", "volume")


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
        for name, measure in ((name, MEASURES[name]) for name in TOLD)
    )
    return [f"Under the {listed(map(short_name, found.items))}: {said}; above, all of it mixed."]
