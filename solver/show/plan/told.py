"""What a plan tells of its drinks and of what is made for them, in the words of all its forms."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from solver.drinks.guest_notice import ForGuest
from solver.show.guest import caution_lines, guest_fields, told_fields, told_line, told_words
from solver.show.names_in_a_row import listed
from solver.tasks.plan.answer import Plan
from solver.tasks.plan.told import JobNotice


def drinks_told(plan: Plan) -> list[tuple[str, list[str]]]:
    """Every drink that is poured, with its allergens, and its cautions a line each."""
    return [(name, _of_drink(guest)) for name, guest in plan.told.drinks]


def _of_drink(guest: ForGuest) -> list[str]:
    return [told_line(guest.told), *caution_lines(guest)]


def wash_said(notice: JobNotice) -> list[str]:
    """What the vessel of a job is to be washed of, if it is."""
    if notice.wash is None:
        return []
    held = ", ".join(notice.wash.allergens)
    return [f"wash the vessel first: {notice.wash.name} was in it ({held})"]


def job_told(notice: JobNotice) -> list[str]:
    """What is made: its allergens, and its cautions a line each."""
    told = notice.told
    lines = ["; ".join(told_words(told))] if told_words(told) else []
    if told.may_hold_alcohol and not told.alcohol:
        lines.append(f"May hold alcohol: {', '.join(told.may_hold_alcohol)}")
    return [*lines, *(f"Caution: {said}" for said in (*told.cautions, *told.kitchen_cautions))]


def told_text(plan: Plan) -> Iterator[str]:
    """What guests are told, for people; what holds for several drinks is said once."""
    yield "Tell guests:"
    of: dict[str, list[str]] = {}
    for name, (first, *more) in drinks_told(plan):
        yield f"  {name}: {first[:1].lower()}{first[1:]}"
        for line in more:
            of.setdefault(line, []).append(name)
    yield from (f"  {listed(names)}: {line}" for line, names in of.items())


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
