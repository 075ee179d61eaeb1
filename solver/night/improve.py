"""Good plans, quickly: a first one that serves what is wished, and better ones by small changes.

None of it proves anything. Bounds come from a solver that sees the whole; it is helped by a good
plan, for a bar with many bottles has more plans than a solver finds its way through in seconds.
"""

from __future__ import annotations

import random

from solver.night.menu_rows import MenuRows
from solver.night.menu_steps import kept_of_menu
from solver.night.rows import NightRows
from solver.search.clock import Clock
from solver.search.milp.integer_program import (
    CpSat,
    Enough,
    Infeasible,
    OutOfTime,
    Solved,
    Terms,
    with_fixed,
)

Values = tuple[int, ...]
STEP_S = 1.0
"""Seconds that one change may take at most."""
STEP_SHARE = 0.002
NIGHTS, DRINKS = 2, 6
"""How many nights, or how many drinks, are chosen anew in one change."""
MOST_IN_VAIN = 25
"""Changes in a row that help nothing, after which none is tried any more."""


def wished(rows: NightRows, goal: Terms, clock: Clock) -> Values:
    """The best plan that serves the wished drinks, as near as whole ones come; empty for none."""
    return _fixed(rows, goal, clock, _wished_serves(rows), ())


def same_serves(rows: NightRows, goal: Terms, clock: Clock, values: Values) -> Values:
    """The best plan that serves the same drinks, or none in time: what is got is chosen anew."""
    served = {v: values[v] for night in rows.serves for v in night}
    return _fixed(rows, goal, clock, served, values)


def _fixed(
    rows: NightRows, goal: Terms, clock: Clock, serves: dict[int, int], hint: Values
) -> Values:
    time = clock.within(2 * STEP_S)
    found = CpSat().minimise(
        with_fixed(rows.program, serves), goal, time, hint, Enough(share=STEP_SHARE)
    )
    return found.values if isinstance(found, Solved) else ()


def better(rows: NightRows, goal: Terms, clock: Clock, found: Solved, enough: Enough) -> Solved:
    """A plan that is no worse, by choosing some nights or some drinks anew again and again.

    Always in the same order (Shaw's large neighbourhood search, CP 1998).
    """
    pick = random.Random(1)  # noqa: S311 - chance is only for variety
    in_vain = 0
    while clock.left and not enough.of(found) and in_vain < MOST_IN_VAIN:
        kept = _kept(rows, found.values, pick)
        fixed = {v: found.values[v] for v in kept}
        step = CpSat().minimise(
            with_fixed(rows.program, fixed),
            goal,
            clock.within(STEP_S),
            found.values,
            Enough(share=STEP_SHARE),
        )
        match step:
            case Solved() if step.value < found.value:
                found = Solved(step.values, step.value, found.bound)
                in_vain = 0
            case Solved() | OutOfTime():
                in_vain += 1
            case Infeasible():
                message = "a solver denies a plan that it found before"
                raise RuntimeError(message)
    return found


def _kept(rows: NightRows, values: Values, pick: random.Random) -> list[int]:
    """The serves that stay: of all but some nights, or of all but some drinks."""
    if isinstance(rows, MenuRows):
        return kept_of_menu(rows, values, pick)
    if pick.getrandbits(1):
        nights = range(len(rows.serves))
        free = set(pick.sample(nights, min(NIGHTS, len(nights))))
        return [v for at, night in enumerate(rows.serves) if at not in free for v in night]
    drinks = range(len(rows.question.drinks))
    free = set(pick.sample(drinks, min(DRINKS, len(drinks))))
    return [v for night in rows.serves for at, v in enumerate(night) if at not in free]


def _wished_serves(rows: NightRows) -> dict[int, int]:
    """Whole drinks of every night, by the largest remainders."""
    question = rows.question
    whole = sum(drink.wish for drink in question.drinks) or 1
    serves: dict[int, int] = {}
    for night, variables in zip(question.nights, rows.serves, strict=True):
        exact = [drink.wish * night.drinks / whole for drink in question.drinks]
        counts = [int(each) for each in exact]
        by_rest = sorted(range(len(exact)), key=lambda at: counts[at] - exact[at])
        for at in by_rest[: night.drinks - sum(counts)]:
            counts[at] += 1
        serves.update(zip(variables, counts, strict=True))
    return serves
