"""A trade-off."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document, finite
from solver.show.documents.design import answer_fields
from solver.show.documents.limits import limit_fields
from solver.show.text.tradeoff import axis, axis_key, is_chosen
from solver.tasks.design_result import Status
from solver.tasks.tradeoff import Tradeoff


def tradeoff_json(found: Tradeoff, bar: Bar) -> str:
    """The document of a trade-off."""
    return document("tradeoff", tradeoff_fields(found, bar))


def tradeoff_fields(found: Tradeoff, bar: Bar) -> dict[str, Any]:
    """What a document says of a trade-off."""
    design = found.design
    chosen = found.chosen
    return {
        "status": _status(found),
        "between": [
            {"name": name, "key": axis_key(name), "unit": axis(name, bar).partition(", ")[2]}
            for name in found.between
        ],
        "points": [
            {
                **_pair(found, (spot.first, spot.second)),
                "chosen": is_chosen(found, spot),
                "answer": answer_fields(design, spot.answer, bar),
            }
            for spot in found.spots
        ],
        "complete": found.complete,
        "unsearched": [
            {"from": _pair(found, low), "to": _pair(found, high)} for low, high in found.unsearched
        ],
        "chosen": None if chosen is None else answer_fields(design, chosen.answer, bar),
        "limits": [
            limit_fields(limit, chosen.answer.values[limit.measure.name] if chosen else None)
            for limit in design.problem.limits
        ],
        "proof": {
            "compared": found.compared,
            "solver": found.solver,
            "tolerance": found.tolerance,
            "seconds": round(found.seconds, 3),
            "checked": found.complete,
        },
    }


def _status(found: Tradeoff) -> str:
    if found.stopped:
        return Status.STOPPED.value
    return (Status.OPTIMAL if found.spots else Status.IMPOSSIBLE).value


def _pair(found: Tradeoff, place: tuple[float, float]) -> dict[str, Any]:
    return dict(zip(map(axis_key, found.between), map(finite, place), strict=True))
