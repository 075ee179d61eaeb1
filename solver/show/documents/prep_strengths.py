"""One syrup for several drinks."""

from __future__ import annotations

from typing import Any

from solver.show.documents.contract import document, finite
from solver.tasks.prep.best_strength import Served, Serving, SyrupStrength


def served_json(found: Served) -> str:
    """The same for programs."""
    return document(
        "prep-serve",
        {
            "name": found.prep.recipe.key,
            "profiles": list(found.profiles),
            "grid": {
                "low_brix": found.grid.low,
                "high_brix": found.grid.high,
                "coarse_brix": found.grid.coarse,
                "fine_brix": found.grid.fine,
                "acids_g_100ml": found.grid.acids,
            },
            "strengths": [_fields(strength) for strength in found.strengths],
            "best": _fields(found.best),
            "now": _fields(found.now),
            "proven": found.proven,
        },
    )


def _fields(strength: SyrupStrength) -> dict[str, Any]:
    return {
        "brix": strength.brix,
        "sugar_g_100ml": strength.ingredient.sugar.value,
        "acid_g_100ml": strength.ingredient.acid.value,
        "worst": finite(strength.worst),
        "off_aim": {s.profile: finite(s.worst) for s in strength.servings},
        "proven": strength.proven,
        "pours": {s.profile: _pours(s) for s in strength.servings},
    }


def _pours(serving: Serving) -> list[dict[str, Any]] | None:
    if serving.answer is None:
        return None
    return [
        {
            "part": pour.part,
            "ingredient": pour.ingredient.key,
            "g" if pour.ingredient.per == "g" else "ml": round(pour.amount, 3),
        }
        for pour in serving.answer.pours
    ]
