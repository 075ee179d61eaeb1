"""A swap."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.guest import avoided_fields, past_fields
from solver.show.documents.rebalanced import rebalanced_fields
from solver.show.text.swapped import MOST_SHOWN
from solver.tasks.respec.cost_limit import CostLimit
from solver.tasks.respec.objections import Objection
from solver.tasks.respec.substitutes import Swap, of_different_kinds
from solver.tasks.respec.swap import Swaps


def swap_json(swaps: Swaps, bar: Bar) -> str:
    """The document of a swap."""
    return document("swap", swap_fields(swaps, bar))


def objection_fields(each: Objection) -> dict[str, str]:
    """What speaks against a drink, for programs."""
    return {
        "word": each.word,
        "in": each.name,
        "against": each.against.value if each.against else "not counted",
    }


def swap_fields(swaps: Swaps, bar: Bar) -> dict[str, Any]:
    """What a document says of a swap."""
    also = {
        "untried": swaps.untried,
        "carried": [objection_fields(each) for each in swaps.objections],
        "left_out": [item.key for item in swaps.left_out],
        "without": avoided_fields(swaps.avoided),
        "past": past_fields(swaps.past),
        "cost_limit": _cost_fields(swaps.cost),
    }
    if swaps.best is None:
        status = "stopped" if swaps.untried else "impossible"
        return {"status": status, "answer": None, "alternatives": [], **also}
    others = of_different_kinds(swaps.found[1:], MOST_SHOWN - 1)
    over = swaps.cost is not None and not swaps.cost.kept
    return {
        **_fields(swaps.best, bar),
        **({"status": "impossible"} if over else {}),
        "alternatives": [_fields(each, bar) for each in others],
        **also,
    }


def _cost_fields(cost: CostLimit | None) -> dict[str, Any] | None:
    """The most that a drink may cost."""
    return None if cost is None else {"most": cost.most, "now": cost.now, "kept": cost.kept}


def _fields(found: Swap, bar: Bar) -> dict[str, Any]:
    return {
        "out": [item.key for item in found.out],
        "in": [item.key for item in found.instead],
        "like_for_like": [
            {
                "out": each.line.ingredient.key,
                "in": each.instead.key,
                "measure": each.measure.name if each.measure else "volume",
                "g" if each.instead.per == "g" else "ml": round(each.amount, 3),
            }
            for each in found.like
        ],
        **rebalanced_fields(found.result, bar),
    }
