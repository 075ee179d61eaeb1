"""The best of all profiles, a short block each."""

from __future__ import annotations

import math

from solver.pantry.bar import Bar
from solver.search.problem import Goal
from solver.show.text.characters import word_lines
from solver.show.text.design import left_off
from solver.show.text.guest import DEFERS, avoided_lines, day_line, told_line
from solver.show.text.pours import numbers_line, said_amount, said_name
from solver.show.text.served import served_words
from solver.show.text.target import target_line
from solver.show.text.way_out import way_said
from solver.show.text.why import conflict_lines, short_spec
from solver.show.words.names_in_a_row import listed
from solver.tasks.check_any import AnyProfileResult, Proposal


def any_text(found: AnyProfileResult, bar: Bar) -> str:
    """Yes or no, the drinks, how many profiles were asked, and what is not known of the rest."""
    lines = [_verdict(found), *_why_none(found, bar)]
    for each in found.best:
        lines += ["", *_block(each, bar)]
    none = f"{len(found.none)} are proven to have none" if found.none else "none is without"
    lines += ["", f"{found.asked} profiles were asked, {none}; {found.seconds:.2f} s."]
    if found.best and found.steps:
        steps = listed(step.says for step in found.steps)
        lines.append(f"Each is {steps} than what its profile serves here otherwise.")
    if found.open:
        why = "it was stopped" if found.interrupted else "there was no time"
        lines.append(f"Not all is known of {', '.join(found.open)}: {why}.")
    if found.best:
        lines += [_order(found.best[0]), *avoided_lines(found.best[0].found.avoided, bar), DEFERS]
    return "\n".join([*lines, *day_line(bar)])


def _verdict(found: AnyProfileResult) -> str:
    if not found.having:
        if found.open:
            return f"Not known: {'it was stopped' if found.interrupted else 'there was no time'}."
        why = found.why_none
        told = why is not None and (why.conflicts or why.bought)
        return "No." if told else "No. Of one profile, check says what stands in the way."
    count = f"{found.having} of {found.asked} profiles have one"
    return f"Yes: {count}." if found.having > 1 else "Yes, of one profile."


def _why_none(found: AnyProfileResult, bar: Bar) -> list[str]:
    """What all profiles have in the way, and what to buy."""
    why = found.why_none
    if why is None:
        return []
    lines = conflict_lines(why.conflicts, "drink", bar)
    if why.bought:
        way, name = why.bought.way, why.bought.profile
        said = f"  {way_said(way, bar)} ({name}): {short_spec(way.answer, bar)}"
        lines += ["", "It would be possible", said, "", DEFERS]
    return [*lines, "There was no time to look at every purchase."] if why.cut else lines


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
    technique = found.profile.technique
    pours = ", ".join(
        f"{said_amount(p, bar)} {said_name(p.ingredient, technique)}" for p in answer.pours
    )
    garnish = f", with {answer.garnish}" if answer.garnish else ""
    left = f" (without {left}, for the guest)" if (left := left_off(found)) else ""
    made = served_words(found, bar)
    drinks = f"{answer.guest.standard_drinks:.1f} standard drinks"
    usual = _usual(each)
    return [
        f"{found.profile.name}: {made}",
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
