"""What a plan tells of its drinks and of what is made for them."""

from __future__ import annotations

from typing import Any

from solver.show.documents.guest import guest_fields, told_fields
from solver.tasks.plan.answer import Plan
from solver.tasks.plan.plan_notice import JobNotice


def drink_fields(plan: Plan) -> list[dict[str, Any]]:
    """What guests are told, for programs."""
    return [{"spec": name, **guest_fields(guest)} for name, guest in plan.told.drinks]


def job_fields(notice: JobNotice) -> dict[str, Any]:
    """What is to be told of something that is made, for programs."""
    told, wash = notice.told, notice.wash
    return {
        **told_fields(told),
        "may_hold_alcohol": [] if told.alcohol else list(told.may_hold_alcohol),
        "cautions": [*told.cautions, *told.kitchen_cautions],
        "wash_first": wash and {"after": wash.name, "allergens": list(wash.allergens)},
    }
