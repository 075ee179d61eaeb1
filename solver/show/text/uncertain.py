"""What is not certain about a drink, in a line."""

from __future__ import annotations

from collections.abc import Sequence

from solver.drinks.uncertainty import MeltSpread, Uncertainty
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour

SOME_ALCOHOL_PCT = 0.05
"""Less is shown as none."""
SHOWN_FROM_PCT = 0.3
"""Error of the volume, per cent, that is worth a word: a millilitre in a long drink."""


def uncertain_lines(found: Uncertainty) -> list[str]:
    """At most one line."""
    said: list[str] = []
    if found.melt is not None:
        said.append(_melt(found.melt))
    elif found.own_melt:
        said.append("how much the melt varies from hand to hand: this bar set its own")
    if found.volume_error_pct > SHOWN_FROM_PCT:
        said.append(f"the volume may be {found.volume_error_pct:.1f} % off")
    return [f"Not certain: {'; '.join(said)}."] if said else []


def _melt(spread: MeltSpread) -> str:
    low, high = spread.technique.spread_low, spread.technique.spread_high
    least, most = spread.least, spread.most
    strength = f"{float(least.abv_pct):.1f} to {float(most.abv_pct):.1f} % vol, "
    return (
        f"with {low:.2g} to {high:.2g} times the melt, "
        f"{strength if least.abv_pct >= SOME_ALCOHOL_PCT else ''}"
        f"{float(least.volume_ml):.0f} to {float(most.volume_ml):.0f} mL"
    )


def uncooked_lines(pours: Sequence[Pour], volume_ml: float, bar: Bar) -> list[str]:
    """What of a drink was never cooked, and what that leaves open of its sugar."""
    return [
        f"{_named(pour.ingredient.name)} is not cooked yet, and is judged by its recipe: "
        f"sugar may be {_sugar_error(pour) / volume_ml * 100:.1f} g/100 mL more or less. "
        "Cook it, weigh it, and ask again."
        for pour in pours
        if pour.ingredient.key in bar.uncooked
    ]


def uncooked_names(pours: Sequence[Pour], bar: Bar) -> list[str]:
    """What of a drink was never cooked."""
    items = (pour.ingredient for pour in pours)
    return list(dict.fromkeys(item.name for item in items if item.key in bar.uncooked))


def _named(name: str) -> str:
    return f"{name[:1].upper()}{name[1:]}"


def _sugar_error(pour: Pour) -> float:
    """Half of the range of the sugar that is poured with it, g."""
    sugar = pour.ingredient.sugar
    low, high = sugar.low, sugar.high
    return 0.0 if low is None or high is None else (high - low) / 200 * pour.amount
