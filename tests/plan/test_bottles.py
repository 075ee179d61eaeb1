"""No plan pours from bottles that are not there: what a plan says against bottles on a shelf."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from solver.pantry.bar import Bar
from solver.pantry.plan_file import Coming
from solver.tasks.plan.answer import Plan
from tests.each import each
from tests.plan.bar_lead import Bottles, Row, through
from tests.plan.bars import TODAY, answer, bar_in, coming, on, spec

KEYS = ("soda-water", "tonic-water", "sparkling-wine", "whole-milk", "sweet-vermouth", "gin")


def shelf_of(rows: Mapping[str, Row], prices: Mapping[str, float]) -> str:
    """The rows as a sheet; its columns are ingredient, bottle, price, on_hand, opened, use_by, case
    and supplier."""
    return "".join(
        f"{key},{row.ml:g} ml,{prices[key]},{row.on_hand:g} bottles,,{row.use_by or ''},"
        f"{row.case if row.case > 1 else ''},Quay\n"
        for key, row in rows.items()
    )


def wrong_bottles(plan: Plan, rows: Mapping[str, Row]) -> list[str]:
    """What a bar lead finds wrong with a plan: each thing with what was said and what comes."""
    pours: dict[str, dict[date, float]] = {key: {} for key in rows}
    for evening in plan.evenings:
        for drink, count in evening.drinks:
            for pour in drink.pours:
                by_day = pours[pour.ingredient]
                by_day[evening.day] = by_day.get(evening.day, 0.0) + count * ml(pour.amount)
    cases = {order.ingredient.key: order.units for order in plan.orders}
    left = {course.ingredient.key: course.amounts[-1] for course in plan.courses}
    thrown = {key: sum(e.amount for e in plan.endings if e.ingredient.key == key) for key in rows}
    found: list[str] = []
    for key, row in rows.items():
        if key not in left:
            continue
        bottles, missing = through(row, cases.get(key, 0), TODAY, pours[key] or {on(0): 0.0})
        if missing:
            found.append(f"{missing:.0f} mL {key} are missing")
        elif cases.get(key, 0) and not through(row, cases[key] - 1, TODAY, pours[key])[1]:
            found.append(f"a case of {key} too many")
        if abs(bottles.thrown - thrown[key]) > 1:
            found.append(f"{key}: {thrown[key]:.0f} mL are to spoil, {bottles.thrown:.0f} do")
        if abs(bottles.left - left[key]) > 1:
            found.append(f"{key}: {left[key]:.0f} mL are to be left, {bottles.left:.0f} are")
        found += wrong_open_ones(plan, key, bottles)
    return found


def wrong_open_ones(plan: Plan, key: str, bottles: Bottles) -> list[str]:
    """Where a plan does not tell what is left in the bottles that are open in the end."""
    if key == "whole-milk":  # of which what is closed is over some day, too
        return []
    opened = {each.last: round(each.ml) for each in bottles.opened if each.ml > 1}
    told = {e.day: round(e.amount) for e in plan.later if e.ingredient.key == key}
    if told == {last: left for last, left in opened.items() if last < date.max}:
        return []
    return [f"{key}: {told} is told of open bottles, {opened} is left in them"]


def ml(amount: str) -> float:
    return float(amount.removesuffix(" ml"))


@dataclass(frozen=True)
class Case:
    """A bar, its shelf as a bar lead has it, and what is coming."""

    bar: Bar
    rows: Mapping[str, Row]
    coming: Coming


def random_case(seed: int, folder: Path) -> Case:
    """A shelf with cases, small bottles and short lives, drinks that pour of it, and nights."""
    pick = random.Random(seed)
    keys = pick.sample(KEYS, 3)
    rows = {
        key: Row(
            ml=pick.choice((200, 330, 700, 1000)),
            on_hand=pick.choice((0, 0, 1, 2.5, 3, 7, 12, 30)),
            case=pick.choice((1, 1, 4, 6, 24)),
        )
        for key in keys
    }
    prices = {key: pick.choice((0.5, 1.2, 6.4, 20)) for key in keys}
    drinks = [
        spec(name, **{key: f"{pick.choice((20, 45, 120, 200))} ml" for key in pick.sample(keys, 2)})
        for name in ("One", "Two")
    ]
    bar = bar_in(folder, shelf_of(rows, prices), *drinks)
    for key, row in rows.items():
        life = bar.bottles.find(key).life_days
        row.keeps = None if life is None else int(life)
    days = sorted(pick.sample(range(9), pick.randint(1, 4)))
    nights = [(day, pick.randint(3, 25)) for day in days]
    shares = pick.choice(("one=60% two=40%", "one=20..60% two", "one=100%"))
    return Case(bar, rows, coming(*nights, shares=shares))


@each(range(25))
def test_a_bar_lead_can_pour_every_plan_from_the_bottles_that_there_are(seed: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        case = random_case(seed, Path(folder))
        found = answer(case.coming, case.bar)
    assert isinstance(found, Plan)
    assert not wrong_bottles(found, case.rows)
