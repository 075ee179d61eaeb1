"""What is not certain about a drink, in a line and as fields."""

from __future__ import annotations

from typing import Any

from solver.drinks.uncertainty import MeltSpread, Uncertainty
from solver.mixture.blend import Finished

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
        said.append("how far a drink strays from the melt that this bar set itself")
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
        "least": {"factor": technique.spread_low, **_finished(spread.least)},
        "most": {"factor": technique.spread_high, **_finished(spread.most)},
        "basis": technique.basis,
        "source": technique.source,
    }


def _finished(finished: Finished) -> dict[str, float]:
    return {
        "abv_pct": float(finished.abv_pct),
        "sugar_g_100ml": float(finished.sugar_g_100ml),
        "acid_g_100ml": float(finished.acid_g_100ml),
        "volume_ml": float(finished.volume_ml),
    }
