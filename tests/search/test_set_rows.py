"""The second opinion on the best set: its rows cut off no set, and a solver comes to the same."""

from __future__ import annotations

import numpy as np
import pytest

from solver.search.milp.backend import Backend, Effort
from solver.search.milp.cpsat import CpSat
from solver.search.sets.seats import EMPTY, Seats
from solver.search.sets.set_question import FoundSet
from tests.each import each
from tests.search.best_set import best_set, set_rows
from tests.search.mathopt import MathOpt
from tests.search.set_questions import every_set, question

PROOF = Effort(seconds=60.0, proof=True)


def decisions(seats: Seats, found: FoundSet) -> list[float]:
    """The options that a set takes, one for each seat."""
    left = {(part, one) for part, held in enumerate(found.ingredients) for one in held}
    taken = [0.0] * len(seats.worth)
    for span in seats.spans:
        options = range(span.start, span.stop)
        mine = [o for o in options if (int(seats.part[o]), int(seats.ingredient[o])) in left]
        empty = [o for o in options if seats.ingredient[o] == EMPTY]
        option = min(mine) if mine else empty[0]
        left.discard((int(seats.part[option]), int(seats.ingredient[option])))
        taken[option] = 1.0
    return taken


@each(range(40))
def test_every_set_satisfies_every_row_and_loses_what_it_is_worth_less(seed: int) -> None:
    given = question(seed)
    sets = every_set(given)
    if not sets:
        return
    seats = Seats.of(given)
    model = set_rows(seats)
    lost: list[int] = []
    for found in sets[:100]:
        values = model.rows.lifted(decisions(seats, found))
        for row in model.rows.rows:
            total = sum(c * values[v] for v, c in zip(row.variables, row.coefficients, strict=True))
            assert total <= row.upper, row.name
        assert all(v.low <= x <= v.high for v, x in zip(model.rows.variables, values, strict=True))
        lost.append(values[model.objective] + found.worth)
    assert len(set(lost)) == 1


@pytest.mark.parametrize(
    "backend", [CpSat(), MathOpt("highs")], ids=lambda each: type(each).__name__
)
@pytest.mark.parametrize("spread", [2, 1_000_000])
def test_a_solver_comes_to_the_same_worth(backend: Backend, spread: int) -> None:
    for seed in range(15):
        given = question(seed, spread=spread)
        first = next(iter(every_set(given)), None)
        found = best_set(given, backend, PROOF)
        assert (found and found.worth) == (first and first.worth)


def test_the_next_best_are_found_by_leaving_out_the_best() -> None:
    given = next(q for q in map(question, range(99)) if len(every_set(q)) > 20)
    expected = every_set(given)[:5]
    assert len(expected) == 5
    found: list[FoundSet] = []
    for _ in expected:
        found.append(
            best_set(given, CpSat(), PROOF, [each.ingredients for each in found]) or found[0]
        )
    assert len(set(found)) == 5
    assert [each.worth for each in found] == [each.worth for each in expected]


def test_rows_are_exact_whatever_the_worths() -> None:
    """No rounding: in scaled rows a unit of worth is more than the slack that rounding may give."""
    given = next(q for seed in range(99) if every_set(q := question(seed, spread=30_000_000)))
    model = set_rows(Seats.of(given))
    (row,) = (row for row in model.rows.rows if row.name == "what is lost")
    assert np.gcd.reduce(np.array(row.coefficients)) >= 2
