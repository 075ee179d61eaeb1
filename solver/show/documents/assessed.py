"""An existing drink."""

from __future__ import annotations

from typing import Any

from solver.drinks.assess import AimMet, Assessment, LimitMet
from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.drink import drink_fields
from solver.show.documents.floated import float_fields
from solver.show.documents.guest import guest_fields
from solver.show.documents.limits import limit_fields
from solver.show.documents.tasted import tasted_fields
from solver.show.documents.uncertain import not_cooked_fields, uncertain_fields
from solver.show.text.assessed import beyond_words, departure_words, distance_words
from solver.show.text.limits import limit_range
from solver.show.text.pours import said_amount
from solver.show.text.target import ends


def assessment_json(found: Assessment, bar: Bar) -> str:
    """The document of an assessment."""
    return document("assess", assessment_fields(found, bar))


def assessment_fields(found: Assessment, bar: Bar) -> dict[str, Any]:
    """What a document says of an assessment."""
    return {
        "status": "assessed",
        "answer": assessed_fields(found, bar),
        "aims": [_aim_fields(met) for met in found.aims],
        "limits": [_limit_fields(met, bar) for met in found.limits],
        "departures": [departure_words(each, found, bar) for each in found.departures],
    }


def assessed_fields(found: Assessment, bar: Bar) -> dict[str, Any]:
    """What documents say of a spec: its pours, what it is in the glass, what a guest must know."""
    return {
        "name": found.spec.name,
        "profile": found.profile.name if found.profile else None,
        "technique": found.technique,
        "technique_assumed": found.assumed,
        "glass": found.glass,
        "pours": [
            {
                "part": line.part or None,
                "ingredient": line.ingredient.key,
                "amount": said_amount(line, bar),
                "g" if line.ingredient.per == "g" else "ml": round(line.amount, 3),
                "stage": "top" if line.top else "first",
                "cost": line.cost,
            }
            for line in found.lines
        ],
        **drink_fields(found.drink, found.values),
        "not_cooked": not_cooked_fields(found.lines, bar),
        "under_float": float_fields(found.floated),
        "off_aim": found.off_aim,
        "uncertain": uncertain_fields(found.uncertain),
        "approved": found.spec.approved.model_dump(mode="json") if found.spec.approved else None,
        "moved": [
            {"measure": m.measure.name, "from": m.approved, "to": m.now, "unit": m.measure.unit}
            for m in found.moved
        ],
        "tasted": tasted_fields(found.spec),
        **guest_fields(found.guest),
    }


def _aim_fields(met: AimMet) -> dict[str, Any]:
    return {
        "measure": met.aim.measure.name,
        "unit": met.aim.measure.unit,
        "aim": ends(met.aim),
        "tolerance": met.aim.tolerance,
        "value": met.value,
        "distance": met.distance,
        "says": f"{met.aim.measure.label}: {distance_words(met)}",
    }


def _limit_fields(met: LimitMet, bar: Bar) -> dict[str, Any]:
    said = (
        "not known" if met.kept is None else "kept" if met.kept else f"broken, {beyond_words(met)}"
    )
    return {
        **limit_fields(met.limit, met.value, bar.currency),
        "kept": met.kept,
        "says": f"{met.limit.measure.label} {limit_range(met.limit, bar.currency)}: {said}",
    }
