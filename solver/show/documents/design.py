"""What programs read of a design."""

from __future__ import annotations

from typing import Any

from solver.drinks.answer import Answer
from solver.pantry.bar import Bar
from solver.search.lexicographic import Agreed, Disagreed
from solver.search.result import Optimal
from solver.show.documents.characters import character_fields, word_fields
from solver.show.documents.contract import document, finite
from solver.show.documents.drink import drink_fields
from solver.show.documents.floated import float_fields
from solver.show.documents.guest import avoided_fields, guest_fields, past_fields
from solver.show.documents.in_keeping import in_keeping_fields
from solver.show.documents.target import target_fields
from solver.show.documents.uncertain import not_cooked_fields, uncertain_fields
from solver.show.documents.why import conflict_fields, limit_fields_of, way_fields
from solver.show.text.pours import said_amount
from solver.tasks.design_result import Design, Status


def design_json(found: Design, bar: Bar) -> str:
    """The document of a design."""
    return document("design", design_fields(found, bar))


def design_fields(found: Design, bar: Bar) -> dict[str, Any]:
    """What a document says of a design."""
    return {
        "status": found.status.value,
        "answer": answer_fields(found, found.answer, bar) if found.answer else None,
        "alternatives": [answer_fields(found, other, bar) for other in found.alternatives],
        "limits": limit_fields_of(found.why, found.demands, bar),
        "conflicts": conflict_fields(found.why),
        "ways_out": [
            way_fields(way, answer_fields(found, way.answer, bar), bar)
            for way in (found.why.ways_out if found.why else ())
        ],
        "left_out": [ingredient.key for ingredient in found.left_out],
        "unsettled": [each.value for each in found.open],
        "interrupted": found.interrupted,
        "reasons_complete": not found.why.undecided if found.why else None,
        "without": avoided_fields(found.avoided),
        "past": past_fields(found.past),
        "words": word_fields(found.words),
        "far_off": [
            {"measure": e.measure.name, "asked": e.asked, "value": e.value, "steps": e.steps}
            for e in found.far_off
        ],
        "lengthens": _lengthens_fields(found),
        "only_larger": found.only_larger,
        "as_in_keeping": _floor_fields(found, bar),
        "proof": {
            "goal": found.problem.goal.value,
            "objective": finite(found.objective),
            "bound": finite(found.bound),
            "gap": finite(found.objective - found.bound) if found.answer else None,
            "tolerance": found.tolerance,
            "compared": found.compared,
            "solver": found.solver,
            "verified_by": found.verdict.solver if isinstance(found.verdict, Agreed) else None,
            "dispute": dispute_fields(found, bar),
            "goal_settled": found.goal_settled,
            "more_in_keeping": found.keeping.before if found.keeping else None,
            "off_target": found.targets.off if found.targets else None,
            "seconds": round(found.seconds, 3),
            "checked": found.status is Status.OPTIMAL,
        },
    }


def _lengthens_fields(found: Design) -> dict[str, Any] | None:
    """What a long drink was made of, where somebody asked for a longer one."""
    short = found.lengthens
    if short is None:
        return None
    kept, left = ([item.key for item in of] for of in (short.kept, short.left_out))
    steps = list(short.steps)
    return {"drink": short.name, "kept": kept, "left_out": left, "steps_left_out": steps}


def _floor_fields(found: Design, bar: Bar) -> dict[str, Any] | None:
    """How much in keeping a drink was asked to be, and the best there is where none is so."""
    if found.as_in_keeping_as is None:
        return None
    beneath = found.beneath
    return {
        "published_pct": 100.0 * found.as_in_keeping_as,
        "most": answer_fields(found, beneath, bar) if beneath else None,
    }


def dispute_fields(found: Design, bar: Bar) -> dict[str, Any] | None:
    """What a second solver comes to, where it does not agree."""
    if not isinstance(found.verdict, Disagreed):
        return None
    second = found.verdict.second
    return {
        "solver": found.verdict.solver,
        "objective": second.value if isinstance(second, Optimal) else None,
        "bound": second.bound if isinstance(second, Optimal) else None,
        "answer": answer_fields(found, found.rival, bar) if found.rival else None,
    }


def answer_fields(found: Design, answer: Answer, bar: Bar) -> dict[str, Any]:
    """A drink that `found` offers, or another one for the same request."""
    return {
        "name": found.profile.name,
        "profile": found.profile.name,
        "technique": found.profile.technique,
        "glass": found.glass,
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
        "garnish": answer.garnish,
        "leaves": [
            {"ingredient": e.ingredient.key, "says": e.says, "g": e.g, "on_shelf": e.on_shelf}
            for e in answer.leaves
        ],
        **drink_fields(answer.drink, answer.values),
        "not_cooked": not_cooked_fields(answer.pours, bar),
        "under_float": float_fields(answer.floated),
        "off_aim": answer.off_aim,
        **target_fields(answer.values, answer.aims),
        "in_keeping": in_keeping_fields(answer),
        "characters": character_fields(answer),
        "uncertain": uncertain_fields(answer.uncertain),
        **guest_fields(answer.guest),
    }
