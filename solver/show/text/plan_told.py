"""What a plan tells of its drinks and of what is made for them: as text, and for programs."""

from __future__ import annotations

from collections.abc import Iterator

from solver.show.text.guest import cautions_of, told_line, told_words
from solver.show.words.names_in_a_row import listed
from solver.tasks.plan.answer import Plan
from solver.tasks.plan.plan_notice import JobNotice


def drinks_told(plan: Plan) -> list[tuple[str, str]]:
    """Every drink that is poured, with its allergens."""
    return [(name, told_line(guest.told)) for name, guest in plan.told.drinks]


def drinks_cautions(plan: Plan) -> list[tuple[str, str]]:
    """The names of drinks, and a caution that holds for them; each is said once."""
    return [(listed(names), line) for line, names in cautions_of(plan.told.drinks)]


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
    """What guests are told, for people."""
    yield "Tell guests:"
    for name, said in drinks_told(plan):
        yield f"  {name}: {said[:1].lower()}{said[1:]}"
    yield from (f"  {names}: {said}" for names, said in drinks_cautions(plan))
