"""What stands on the shelf is poured from the day that it is ready, and counted until then."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.pantry.bar import Bar
from solver.tasks.plan.answer import Plan, Refusal
from tests.plan.bars import SYRUP, answer, bar_in, coming, on, planned, spec

SOUR = spec("Sour", gin="50 ml", plain="20 ml")
NEAT = spec("Neat", gin="60 ml")
SHELF = "gin,700 ml,20,9 bottles\nwhite-sugar,1 kg,2,9 kg\n"


def bar_with(folder: Path, amount: str) -> Bar:
    """A bar with a batch of the syrup that was begun today and is ready tomorrow."""
    return bar_in(folder, f"{SHELF}plain,813 ml,,{amount},{on(0)}\n", SOUR, NEAT, house=SYRUP)


def syrup(found: Plan) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """What is taken of it on each day, and what stands there at its end."""
    course = next(each for each in found.courses if each.ingredient.key == "plain")
    return course.taken, course.amounts


def test_a_batch_that_is_ready_on_the_second_night_is_poured_then(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "813 ml")
    found = planned(coming((0, 4), (1, 20), shares="sour=0..50% neat"), bar)
    assert not found.jobs
    taken, there = syrup(found)
    assert taken[0] == 0
    assert taken[1] > 0
    left = 813 - taken[1]
    assert list(there) == pytest.approx([813, left])
    (later,) = (each for each in found.later if each.ingredient.key == "plain")
    assert later.day == on(5)
    assert later.amount == pytest.approx(left)


def test_what_is_ready_after_the_first_night_is_not_cooked_anew(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "813 ml")
    assert not planned(coming((0, 4), (2, 20), shares="sour=0..50% neat"), bar).jobs


def test_a_no_says_from_when_it_may_be_poured(tmp_path: Path) -> None:
    found = answer(coming((0, 4), (1, 20), shares="sour=100%"), bar_with(tmp_path, "813 ml"))
    assert isinstance(found, Refusal)
    (said,) = found.in_the_way
    assert said.startswith(f"the syrup: 0 mL there, 813 mL more not ready before {on(1)}")


def test_what_is_ready_after_the_last_night_is_left(tmp_path: Path) -> None:
    found = planned(coming((0, 4), shares="sour=0..50% neat"), bar_with(tmp_path, "813 ml"))
    taken, there = syrup(found)
    assert taken == (0.0,)
    assert list(there) == pytest.approx([813])


def test_nothing_is_cooked_to_use_up_what_would_spoil(tmp_path: Path) -> None:
    """The peel would spoil, and the syrup keeps: of it there is more than is poured."""
    peeled = SYRUP.replace('water = "500 g"', 'water = "500 g"\nlime-peel = "60 g"')
    peeled = peeled.replace("days = 5", "days = 12").replace("813 ml", "870 ml")
    peel = f"lime-peel,1 kg,4,900 g,{on(-3)},{on(2)}\n"
    shelf = f"{SHELF}{peel}plain,813 ml,,813 ml,{on(0)}\n"
    bar = bar_in(tmp_path, shelf, SOUR, NEAT, house=peeled)
    found = planned(coming((6, 10), shares="sour=100%"), bar)
    assert not found.jobs
    assert [each.ingredient.key for each in found.endings] == ["lime-peel"]
    more = planned(coming((6, 60), shares="sour=100%"), bar)
    assert [job.units for job in more.jobs] == [1]  # 1.2 L, of which 813 mL are there
