"""Than what a drink is lighter, drier or longer, where somebody asked for that."""

from __future__ import annotations

from solver.drinks.tops import tops_of
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.search.problem import Goal
from solver.show.words.names_in_a_row import listed, one_of, short_name
from solver.tasks.design_result import Design


def compared_lines(found: Design, bar: Bar) -> list[str]:
    """Than what a drink is lighter or drier, where somebody asked for that."""
    lines: list[str] = []
    for step in found.steps:
        if step.served is not None and found.lengthens is None:
            measure = MEASURES[step.measure]
            has = measure.amount(round(step.served, measure.decimals), bar.currency)
            word = step.word.capitalize()
            lines.append(f"{word} than what would be served otherwise, which has {has}.")
    return lines


def longer_lines(found: Design) -> list[str]:
    """What a long drink was made of, where somebody asked for a longer one, and what of that is
    left out; or that there is no long one of such a drink."""
    short = found.lengthens
    name = found.profile.name
    if short is None:
        larger = f"There is no long {name}: this is for a larger one."
        return [larger, ""] if found.only_larger else []
    # With a goal of its own, the long drink was not asked to have anything of the short one.
    free = found.problem.goal is not Goal.IN_KEEPING
    kept = "" if free else listed(short_name(item) for item in short.kept)
    left = "" if free else listed(short_name(item) for item in short.left_out)
    named = f"{short.name[:1].upper()}{short.name[1:]}"
    stays = f" with its {kept}" if kept else ""
    goes = f"{', and' if kept else ''} without its {left}" if left else ""
    lines = [f"{named}, longer: {_long_words(found, name == short.name)}{stays}{goes}."]
    if short.steps:
        lines += ["Its own steps are for the short drink, and left out:"]
        lines += [f"  {step}" for step in short.steps]
    return [*lines, ""]


def _long_words(found: Design, same: bool) -> str:
    """A long drink by its profile, or by what it has more of."""
    name, answer = found.profile.name, found.answer
    if same and answer is not None and found.problem.goal is Goal.IN_KEEPING:
        return f"more {listed(short_name(pour.ingredient) for pour in tops_of(answer.pours))},"
    return one_of(name)
