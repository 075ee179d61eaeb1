"""What a guest must be told."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.drinks.guest_notice import ForGuest
from solver.pantry.avoidance import Avoidance
from solver.pantry.disclosure import Disclosure
from solver.pantry.stocked import Stocked


def avoided_fields(avoided: Sequence[Avoidance]) -> list[dict[str, Any]]:
    """What words left out, for programs."""
    return [
        {
            "word": each.word,
            "leaves_out": list(each.says),
            "also": [item.key for item in each.called],
            "not_known": list(each.not_known),
        }
        for each in avoided
    ]


def past_fields(past: Sequence[Stocked]) -> list[dict[str, Any]]:
    """What is past its last day, for programs."""
    return [
        {"ingredient": row.ingredient.key, "use_by": row.use_by.isoformat() if row.use_by else None}
        for row in past
    ]


def told_fields(told: Disclosure) -> dict[str, Any]:
    """What one thing is to a guest, for programs; None where not all of it is known."""
    return {
        "allergens": None if told.allergens_not_known else sorted(told.allergens),
        "may_contain": sorted(told.may_contain),
        "animal": None if told.animal_not_known else sorted(told.animal),
        "may_animal": sorted(told.may_animal),
        "declare": sorted(told.declare),
    }


def guest_fields(guest: ForGuest) -> dict[str, Any]:
    """What a guest must be told, for programs."""
    return {
        "standard_drinks": {
            "count": guest.standard_drinks,
            "jurisdiction": guest.jurisdiction,
            "ethanol_g_each": guest.standard_drink.g,
        },
        "allergens": list(guest.allergens),
        "may_contain": list(guest.may_contain),
        "allergens_not_known": list(guest.allergens_not_known),
        "animal": sorted(guest.told.animal),
        "may_animal": sorted(guest.told.may_animal),
        "animal_not_known": list(guest.told.animal_not_known),
        "declare": sorted(guest.told.declare),
        "may_hold_alcohol": list(guest.may_hold_alcohol),
        "cautions": list(guest.cautions),
    }
