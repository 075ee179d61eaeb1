"""A request that a profile's own bound stands against, and the drink past that bound."""

from __future__ import annotations

from collections.abc import Sequence

from solver.pantry.bar import Bar
from solver.requests.demands import Demand, DemandKind
from solver.show.text.guest import told_words
from solver.show.text.pours import pour_line
from solver.show.text.target import target_briefly
from solver.show.words.names_in_a_row import one_of
from solver.tasks.ways_out import WayOut

SIDES = {DemandKind.LEAST: "or more", DemandKind.MOST: "or less"}


def crossing_line(own: Demand, asked: Demand, of: str, bar: Bar) -> str:
    """The two in a sentence; `of` names the profile."""
    if own.measure is None:
        message = "a bound is of a measure"
        raise TypeError(message)
    its, theirs = (
        f"{own.measure.amount(each.bound, bar.currency)} {SIDES[each.kind]}"
        for each in (own, asked)
    )
    label = f"the {own.measure.label} of {one_of(of)}"
    return f"By its profile, {label} is {its}; {theirs} was asked for."


def way_beyond(ways: Sequence[WayOut], own: Demand) -> WayOut | None:
    """The way out that moves a profile's bound and nothing else."""
    return next((way for way in ways if [each.demand for each in way.changes] == [own]), None)


def past_lines(way: WayOut, technique: str, bar: Bar) -> list[str]:
    """The drink past a profile's bound, line by line."""
    answer, measure = way.answer, way.changes[0].demand.measure
    if measure is None or way.changes[0].bound is None:
        message = "a way past a bound moves it"
        raise TypeError(message)
    bound = measure.amount(way.changes[0].bound, bar.currency)
    told = [target_briefly(answer.values, answer.aims), *told_words(answer.guest.told)]
    return [
        f"The nearest has {bound}. To pour it, add --beyond {measure.name}:",
        *(pour_line(pour, technique, bar) for pour in answer.pours),
        *([f"  {'with':>14}  {answer.garnish}"] if answer.garnish else []),
        f"({'; '.join(told)})",
    ]
