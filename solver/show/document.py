"""What programs read: one JSON document, format 1."""

from __future__ import annotations

import json
from typing import Any

from solver.mixture.blend import Finished
from solver.pantry.bar import Bar
from solver.search.loop import Ending
from solver.show.pours import said_amount
from solver.tasks.design import Answer, Design


def design_json(found: Design, bar: Bar) -> str:
    """The document of a design."""
    return json.dumps(
        {
            "format": 1,
            "task": "design",
            "status": found.ending.value,
            "answer": _answer(found, found.answer, bar) if found.answer else None,
            "alternatives": [_answer(found, other, bar) for other in found.alternatives],
            "limits": _limits(found),
            "conflicts": [],
            "ways_out": [],
            "proof": {
                "goal": found.problem.goal.value,
                "objective": found.objective if found.answer else None,
                "bound": found.bound,
                "gap": found.objective - found.bound if found.answer else None,
                "tolerance": found.tolerance,
                "solver": found.solver,
                "seconds": round(found.seconds, 3),
                "checked": found.ending is Ending.OPTIMAL,
            },
        },
        indent=2,
    )


def _answer(found: Design, answer: Answer, bar: Bar) -> dict[str, Any]:
    allergens = {a for p in answer.pours for a in p.ingredient.allergens or ()}
    return {
        "name": found.profile.name,
        "profile": found.profile.name,
        "technique": found.profile.technique,
        "glass": found.profile.glass,
        "pours": [
            {
                "part": pour.part,
                "ingredient": pour.ingredient.key,
                "amount": said_amount(pour, bar),
                "g" if pour.ingredient.per == "g" else "ml": round(pour.amount, 3),
                "cost": pour.cost,
            }
            for pour in answer.pours
        ],
        "before_ice": _measured(answer.before),
        "finished": {
            **_measured(answer.finished),
            "cost": answer.values["cost"],
            "ethanol_g": float(answer.finished.ethanol_g),
            "melt_ml": answer.melt_ml,
        },
        "off_aim": answer.off_aim,
        "allergens": sorted(allergens),
        "cautions": list(dict.fromkeys(c for p in answer.pours for c in p.ingredient.cautions)),
    }


def _measured(mixture: Finished) -> dict[str, float]:
    return {
        "volume_ml": float(mixture.volume_ml),
        "abv_pct": float(mixture.abv_pct),
        "sugar_g_100ml": float(mixture.sugar_g_100ml),
        "acid_g_100ml": float(mixture.acid_g_100ml),
    }


def _limits(found: Design) -> list[dict[str, Any]]:
    return [
        {
            "name": limit.name,
            "measure": limit.measure.name,
            "low": limit.low,
            "high": limit.high,
            "unit": limit.measure.unit,
            "value": found.answer.values[limit.measure.name] if found.answer else None,
            "binding": None,
        }
        for limit in found.problem.limits
    ]
