"""A plan as a document for programs."""

from __future__ import annotations

from typing import Any

from solver.night.best_plan import ProofStage
from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.plan_told import drink_fields, job_fields
from solver.show.text import plan_proof
from solver.show.text.plan_words import design_said
from solver.tasks.plan.answer import (
    BuyingOrder,
    Ending,
    Evening,
    Job,
    Plan,
    PlanAnswer,
    PlanOutOfTime,
    Refusal,
    VesselUse,
)


def plan_json(found: PlanAnswer, bar: Bar) -> str:
    """All of the answer."""
    return document("plan", plan_fields(found, bar))


def plan_fields(found: PlanAnswer, bar: Bar) -> dict[str, Any]:
    """The fields of that document."""
    fields: dict[str, Any]
    match found:
        case Plan():
            fields = _plan(found)
        case Refusal():
            fields = refusal_fields(found)
        case PlanOutOfTime():
            fields = {"status": "stopped"}
    second = None if isinstance(found, PlanOutOfTime) else found.second
    fields["second_solver"] = second and {
        "verdict": second.verdict.value,
        "says": plan_proof.second_said(second),
    }
    return {**fields, "currency": bar.currency, "seconds": round(found.seconds, 3)}


def refusal_fields(found: Refusal) -> dict[str, Any]:
    """Why there is none, and what would help."""
    return {
        "status": "impossible",
        "conflict": list(found.conflict),
        "other_conflicts": found.others,
        "ways_out": [{"without": list(w.dropped), "nearest": w.nearest} for w in found.ways],
        "complete": found.complete,
        "in_the_way": list(found.in_the_way),
    }


def batch_fields(plan: Plan) -> dict[str, Any]:
    """The batches that are by an older recipe, and those that are not poured."""
    return {
        "older_batches": [item.key for item in plan.question.items if item.older],
        "batches_set_aside": [each.key for each in plan.question.set_aside],
        "batches_of_no_spec": [row.ingredient.key for row in plan.question.of_no_spec],
    }


def _plan(plan: Plan) -> dict[str, Any]:
    return {
        "status": "planned" if plan.proven else "not proven",
        "name": plan.question.coming.name,
        "nights": [evening_fields(evening) for evening in plan.evenings],
        **batch_fields(plan),
        "for_guests": drink_fields(plan),
        "prepare": [
            {**_job(job), **job_fields(told)}
            for job, told in zip(plan.jobs, plan.told.jobs, strict=True)
        ],
        "order": [order_fields(order) for order in plan.orders],
        "order_cost": plan.cost,
        "not_in_order": plan_proof.not_in_order(plan),
        "undated_eggs": [item.key for item in plan.question.items if item.undated],
        "counted_without_price": [item.key for item in plan.unpriced],
        "spoils": [ending_fields(ending) for ending in plan.endings],
        "dated_after": [ending_fields(ending) for ending in plan.later],
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
        "proof": [stage_fields(stage) for stage in plan.stages],
    }


def stage_fields(stage: ProofStage) -> dict[str, Any]:
    """What is proven of a stage."""
    return {
        "aim": stage.aim.value,
        "value": stage.value,
        "bound": stage.bound,
        "proven": stage.proven,
        "gap_pct": round(100 * stage.gap, 3),
    }


def evening_fields(evening: Evening) -> dict[str, Any]:
    """A night: its drinks, ice and garnishes."""
    return {
        "date": str(evening.day),
        "drinks": [
            {
                "spec": spec.name,
                "serves": count,
                "from_batch": evening.from_batch.get(spec.name, 0),
            }
            for spec, count in evening.drinks
        ],
        "ice_kg": round(evening.ice_kg, 2),
        "garnishes": [{"garnish": said, "count": count} for said, count in evening.garnishes],
    }


def _job(job: Job) -> dict[str, Any]:
    return {
        "ingredient": job.ingredient.key,
        "how": job.supply.how.value,
        "units": job.units,
        "of_the_same_eggs": job.same_eggs,
        "amount": job.amount,
        "unit": job.ingredient.unit,
        "start_by": None if job.start is None else job.start.isoformat(timespec="minutes"),
        "hours": None if job.supply.hours is None else job.supply.hours.hours,
        "hours_stated": job.supply.hours is not None and job.supply.hours.stated,
        "ready": str(job.ready),
        "use_by": None if job.use_by is None else str(job.use_by),
        "weigh_out": [{"name": name, "grams": grams} for name, grams in job.weigh],
        "vessel": None if job.vessel is None else _vessel(job.vessel),
    }


def _vessel(use: VesselUse) -> dict[str, Any]:
    return {
        "name": use.vessel.name,
        "volume_ml": use.vessel.volume_ml,
        "makes": use.makes,
        "after": use.after,
        "fits": use.fits,
    }


def order_fields(order: BuyingOrder) -> dict[str, Any]:
    """Something to buy."""
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


def ending_fields(ending: Ending) -> dict[str, Any]:
    """What is left of something on its last day."""
    return {
        "ingredient": ending.ingredient.key,
        "last_day": str(ending.day),
        "amount": ending.amount,
        "unit": ending.ingredient.unit,
        "worth": ending.worth,
        "open_bottle": ending.opened,
        "specials": [
            {"spec": s.spec.name, "serves": s.serves, "in_plan": s.planned} for s in ending.specials
        ],
        "design": design_said(ending) or None,
    }
