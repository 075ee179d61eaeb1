"""How a drink varies from one to the next."""

from __future__ import annotations

from typing import Any

from solver.drinks.variation import (
    TRIES,
    Variation,
)
from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.text.variation import held_words, range_words


def variation_json(found: Variation, bar: Bar) -> str:
    """The document of how a drink varies."""
    return document("vary", variation_fields(found, bar))


def variation_fields(found: Variation, bar: Bar) -> dict[str, Any]:
    """What a document says of how a drink varies: shares are 0 to 1, of `tries` drawn drinks."""
    now = found.chances.of(found.judged)
    return {
        "status": "varied",
        "name": found.assessed.spec.name,
        "profile": found.assessed.profile.name if found.assessed.profile else None,
        "tries": TRIES,
        "on_target": found.chances.on_target,
        "within_limits": found.chances.within,
        "as_written": found.chances.alike,
        "judged_by": found.judged.name.lower(),
        "measures": [
            {
                "measure": each.measure.name,
                "unit": each.measure.unit,
                "written": each.usual,
                "low": each.low,
                "high": each.high,
                "under": each.under,
                "over": each.over,
            }
            for each in found.spreads
        ],
        "strays": [
            {
                "what": stray.what,
                "ingredient": None
                if stray.line is None
                else found.assessed.lines[stray.line].ingredient.key,
                "low": stray.low,
                "usual": stray.usual,
                "high": stray.high,
                "source": stray.source or "as asked",
                "share_if_held": share,
                "gain": share - now,
                "says": f"{held_words(stray, found, bar)}: {range_words(stray, found)}",
            }
            for stray, share in found.steadier
        ],
    }
