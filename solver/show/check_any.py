"""The best of all profiles, a short block each."""

from __future__ import annotations

import math
from typing import Any

from solver.pantry.bar import Bar
from solver.pantry.vocabulary import TECHNIQUES
from solver.search.problem import Goal
from solver.show.characters import word_lines
from solver.show.contract import document, finite
from solver.show.document import answer_fields
from solver.show.guest import DEFERS, avoided_fields, avoided_lines, day_line, told_line
from solver.show.pours import numbers_line, said_amount
from solver.show.target import target_line
from solver.show.text import left_off
from solver.tasks.check_any import Anything, Proposal


def any_text(found: Anything, bar: Bar) -> str:
    """Yes or no, the drinks, how many profiles were asked, and what is not known of the rest."""
    lines = [_verdict(found)]
    for each in found.best:
        lines += ["", *_block(each, bar)]
    none = f"{len(found.none)} are proven to have none" if found.none else "none is without"
    lines += ["", f"{found.asked} profiles were asked, {none}; {found.seconds:.2f} s."]
    if found.open:
        why = "it was stopped" if found.interrupted else "there was no time"
        lines.append(f"Not all is known of {', '.join(found.open)}: {why}.")
    if found.best:
        lines += [_order(found.best[0]), *avoided_lines(found.best[0].found.avoided, bar), DEFERS]
    return "\n".join([*lines, *day_line(bar)])


def _verdict(found: Anything) -> str:
    if not found.having:
        if found.open:
            return f"Not known: {'it was stopped' if found.interrupted else 'there was no time'}."
        return "No. Of one profile, check says what stands in the way."
    count = f"{found.having} of {found.asked} profiles have one"
    return f"Yes: {count}." if found.having > 1 else "Yes, of one profile."


def _order(best: Proposal) -> str:
    goal = best.found.problem.goal
    near = "what comes nearest to the most usual of its own profile"
    by = near if goal is Goal.IN_KEEPING else f"what is {goal.value}"
    return f"The best of each family of profiles: on target first, then {by}."


def _block(each: Proposal, bar: Bar) -> list[str]:
    """A drink in a few lines."""
    found, answer = each.found, each.found.answer
    if answer is None:
        return []
    pours = ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in answer.pours)
    garnish = f", with {answer.garnish}" if answer.garnish else ""
    left = f" (without {left}, for the guest)" if (left := left_off(found)) else ""
    made = [TECHNIQUES[found.profile.technique], *([found.glass] if found.glass else [])]
    drinks = f"{answer.guest.standard_drinks:.1f} standard drinks"
    usual = _usual(each)
    return [
        f"{found.profile.name}: {', '.join(made)}",
        f"  {pours}{garnish}{left}",
        f"  {numbers_line(answer.values, bar)}; {drinks}",
        f"  {target_line(answer.values, answer.aims, kept=True)}{f' {usual}' if usual else ''}",
        *(f"  {line}" for line in word_lines(found.words)),
        f"  {told_line(answer.guest.told)}",
        *(f"  Caution: {caution}" for caution in answer.guest.cautions),
    ]


FAR = 10.0
"""How many times as usual another drink is that is called far more usual: our own choice."""


def _usual(each: Proposal) -> str:
    """Whether the shelf makes a more usual drink of its profile."""
    name = each.found.profile.name
    if math.isinf(each.from_usual):
        return ""
    times = math.exp(max(0.0, each.from_usual))
    if times < 1.1:
        return f"No {name} here is more usual."
    return f"The shelf has a {'far ' if times >= FAR else ''}more usual {name}."


def any_json(found: Anything, bar: Bar) -> str:
    """The document of what all profiles have."""
    status = "optimal" if found.having else "stopped" if found.open else "impossible"
    return document(
        "check",
        {
            "status": status,
            "answers": [_fields(each, bar) for each in found.best],
            "profiles": {
                "asked": found.asked,
                "having": found.having,
                "none": list(found.none),
                "not_known": list(found.open),
            },
            "without": avoided_fields(found.best[0].found.avoided) if found.best else [],
            "interrupted": found.interrupted,
            "seconds": round(found.seconds, 3),
        },
    )


def _fields(each: Proposal, bar: Bar) -> dict[str, Any]:
    answer = each.found.answer
    return {
        "profile": each.found.profile.name,
        "from_usual": finite(each.from_usual),
        "answer": answer_fields(each.found, answer, bar) if answer else None,
    }
