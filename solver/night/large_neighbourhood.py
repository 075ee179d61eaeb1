"""A first plan by the wished shares, and large neighbourhood search for better ones.

It proves nothing: bounds come from a solver of the whole program, which a good plan helps.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping

from solver.clock import Clock
from solver.night.lot_sizing import units_for
from solver.night.menu_neighbourhoods import kept_of_menu
from solver.night.menu_rows import MenuRows
from solver.night.plan_rows import NightRows
from solver.night.problem import Nights
from solver.search.milp.integer_program import (
    CpSatProgram,
    Enough,
    Infeasible,
    IntTerms,
    ProgramOutOfTime,
    SolvedProgram,
    with_fixed,
)

Values = tuple[int, ...]
STEP_S, STEP_WORK = 2.0, 0.25
"""Seconds that one change may take at most, and deterministic seconds of CP-SAT, which end it first
where nobody else is at work: then changes are the same from run to run."""
STEP_SHARE = 0.002
AT_ONCE_S = 2.0
"""Seconds for choosing what is got ready for known serves."""
NIGHTS, DRINKS = 2, 6
"""Nights, or drinks, that are chosen anew in one step."""
MOST_IN_VAIN = 25
"""Steps in a row without improvement after which the search ends."""


class DeniedError(RuntimeError):
    """A solver claims that there is no plan, and one is known: a fault of it, or of the rows."""

    def __init__(self) -> None:
        super().__init__("a solver denies a plan that it found before")


def wished(rows: NightRows, goal: IntTerms, clock: Clock) -> Values:
    """A plan of the wished drinks, rounded to whole serves; empty if that has none."""
    serves = wished_serves(rows.question)
    served = {
        v: count
        for night, counts in zip(rows.serves, serves, strict=True)
        for v, count in zip(night, counts, strict=True)
    }
    got = got_by_hand(rows, served)
    by_hand = fixed(rows, goal, clock, served | got, ()) if got else ()
    return by_hand or fixed(rows, goal, clock.within(AT_ONCE_S), served, ())


def got_by_hand(rows: NightRows, served: Mapping[int, int]) -> dict[int, int]:
    """Units for known serves by `lot_sizing`, by variable; empty if that fails."""
    units = units_for(rows.question, [[served[v] for v in night] for night in rows.serves])
    return {
        v: ready.get(day, 0)
        for variables, ready in zip(rows.units, units or (), strict=units is not None)
        for day, v in variables.items()
    }


def same_serves(rows: NightRows, goal: IntTerms, clock: Clock, values: Values) -> Values:
    """The best plan with the same serves, what is got chosen anew; or else the same plan."""
    served = {v: values[v] for night in rows.serves for v in night}
    found = fixed(rows, goal, clock.within(AT_ONCE_S), served, values)
    return found or fixed(rows, goal, clock, dict(enumerate(values)), values)


def fixed(
    rows: NightRows, goal: IntTerms, clock: Clock, values: Mapping[int, int], hint: Values
) -> Values:
    """The best plan with some variables fixed; empty if there is none, or no time."""
    found = CpSatProgram().minimise(
        with_fixed(rows.program, values), goal, clock, hint, Enough(share=STEP_SHARE)
    )
    return found.values if isinstance(found, SolvedProgram) else ()


def better(
    rows: NightRows,
    goal: IntTerms,
    clock: Clock,
    found: SolvedProgram,
    enough: Enough,
    ended: Callable[[], bool] = lambda: False,
) -> SolvedProgram:
    """Large neighbourhood search (Shaw, CP 1998): a solution no worse than `found`.

    Each step chooses some nights or drinks anew, in an order that is always the same, until `ended`
    says so.

    Raises:
        DeniedError: CP-SAT claims that a step has no plan, where the one at hand is one.
    """
    pick = random.Random(1)  # noqa: S311 - chance is only for variety
    in_vain = 0
    while clock.left and not ended() and not enough.of(found) and in_vain < MOST_IN_VAIN:
        clock.still()
        kept = _kept(rows, found.values, pick)
        step = CpSatProgram().minimise(
            with_fixed(rows.program, {v: found.values[v] for v in kept}),
            goal,
            clock.within(STEP_S),
            found.values,
            Enough(share=STEP_SHARE, work=STEP_WORK),
        )
        match step:
            case SolvedProgram() if step.value < found.value:
                found = SolvedProgram(step.values, step.value, found.bound)
                in_vain = 0
            case SolvedProgram() | ProgramOutOfTime():
                in_vain += 1
            case Infeasible():
                raise DeniedError
    return found


def _kept(rows: NightRows, values: Values, pick: random.Random) -> list[int]:
    """The serves that stay fixed in a step: of all but some nights, or of all but some drinks."""
    if isinstance(rows, MenuRows):
        return kept_of_menu(rows, values, pick)
    if pick.getrandbits(1):
        nights = range(len(rows.serves))
        free = set(pick.sample(nights, min(NIGHTS, len(nights))))
        return [v for at, night in enumerate(rows.serves) if at not in free for v in night]
    drinks = range(len(rows.question.drinks))
    free = set(pick.sample(drinks, min(DRINKS, len(drinks))))
    return [v for night in rows.serves for at, v in enumerate(night) if at not in free]


def wished_serves(question: Nights) -> list[list[int]]:
    """The wished shares as whole serves by night and drink, rounded so that each drink is within
    one of its wish on every night, and rarely further off in all (see `relax_and_round.round_all`).
    """
    whole = sum(drink.wish for drink in question.drinks) or 1
    behind = [0] * len(question.drinks)  # in parts of a drink, `whole` of them
    serves: list[list[int]] = []
    for night in question.nights:
        exact = [drink.wish * night.drinks for drink in question.drinks]
        counts = [each // whole for each in exact]
        behind = [
            late + each - whole * count
            for late, each, count in zip(behind, exact, counts, strict=True)
        ]
        odd = [at for at, each in enumerate(exact) if each % whole]
        for at in sorted(odd, key=lambda at: -behind[at])[: night.drinks - sum(counts)]:
            counts[at] += 1
            behind[at] -= whole
        serves.append(counts)
    return serves
