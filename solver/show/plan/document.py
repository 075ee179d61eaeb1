"""A plan as a document for programs."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.contract import document
from solver.show.plan import words
from solver.show.plan.words import design_said
from solver.tasks.plan.answer import Answered, Ending, Evening, Job, Order, OutOfTime, Plan, Refusal


def plan_json(found: Answered, bar: Bar) -> str:
    """All of the answer."""
    return document("plan", plan_fields(found, bar))


def plan_fields(found: Answered, bar: Bar) -> dict[str, Any]:
    """The fields of that document."""
    fields: dict[str, Any]
    match found:
        case Plan():
            fields = _plan(found)
        case Refusal():
            fields = {
                "status": "impossible",
                "conflict": list(found.conflict),
                "other_conflicts": found.others,
                "ways_out": [
                    {"without": list(w.dropped), "nearest": w.nearest} for w in found.ways
                ],
                "complete": found.complete,
            }
        case OutOfTime():
            fields = {"status": "stopped"}
    second = None if isinstance(found, OutOfTime) else found.second
    fields["second_solver"] = second and {
        "verdict": second.verdict.value,
        "says": words.second_said(second),
    }
    return {**fields, "currency": bar.currency, "seconds": round(found.seconds, 3)}


def _plan(plan: Plan) -> dict[str, Any]:
    return {
        "status": "planned" if plan.proven else "not proven",
        "name": plan.question.coming.name,
        "nights": [_evening(evening) for evening in plan.evenings],
        "prepare": [_job(job) for job in plan.jobs],
        "order": [_order(order) for order in plan.orders],
        "order_cost": plan.cost,
        "counted_without_price": [item.key for item in plan.question.unpriced],
        "spoils": [_ending(ending) for ending in plan.endings],
        "dated_after": [_ending(ending) for ending in plan.later],
        "stock": [
            {
                "ingredient": course.ingredient.key,
                "unit": course.ingredient.unit,
                "at_end_of_day": [
                    {"date": str(plan.question.day(day)), "amount": amount}
                    for day, amount in enumerate(course.amounts)
                ],
            }
            for course in plan.courses
        ],
        "proof": [
            {
                "aim": stage.aim.value,
                "value": stage.value,
                "bound": stage.bound,
                "proven": stage.proven,
                "gap_pct": round(100 * stage.gap, 3),
            }
            for stage in plan.stages
        ],
    }


def _evening(evening: Evening) -> dict[str, Any]:
    return {
        "date": str(evening.day),
        "drinks": [{"spec": spec.name, "serves": count} for spec, count in evening.drinks],
        "ice_kg": round(evening.ice_kg, 2),
        "garnishes": [{"garnish": said, "count": count} for said, count in evening.garnishes],
    }


def _job(job: Job) -> dict[str, Any]:
    return {
        "ingredient": job.ingredient.key,
        "how": job.supply.how.value,
        "units": job.units,
        "amount": job.amount,
        "unit": job.ingredient.unit,
        "start_by": None if job.start is None else job.start.isoformat(timespec="minutes"),
        "hours": None if job.supply.hours is None else job.supply.hours.hours,
        "hours_stated": job.supply.hours is not None and job.supply.hours.stated,
        "ready": str(job.ready),
        "use_by": None if job.use_by is None else str(job.use_by),
        "weigh_out": [{"name": name, "grams": grams} for name, grams in job.weigh],
    }


def _order(order: Order) -> dict[str, Any]:
    return {
        "ingredient": order.ingredient.key,
        "units": order.units,
        "unit_holds": order.supply.unit,
        "unit": order.ingredient.unit,
        "bottles_in_a_case": order.supply.case,
        "supplier": order.supply.supplier,
        "cost": order.cost,
        "left_after": order.left,
    }


def _ending(ending: Ending) -> dict[str, Any]:
    return {
        "ingredient": ending.ingredient.key,
        "last_day": str(ending.day),
        "amount": ending.amount,
        "unit": ending.ingredient.unit,
        "worth": ending.worth,
        "specials": [
            {"spec": s.spec.name, "serves": s.serves, "in_plan": s.planned} for s in ending.specials
        ],
        "design": design_said(ending),
    }
