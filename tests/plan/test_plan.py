"""What a plan of a bar says: prep, order, what spoils, and why there is none."""

from __future__ import annotations

import io
import math
from dataclasses import replace
from datetime import datetime, time
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from solver.clock import Clock
from solver.errors import BadInput, BadInputs
from solver.night.second_opinion import SecondVerdict
from solver.pantry.cost_settings import Costing
from solver.pantry.load_bar import load_bar
from solver.pantry.plan_file import read_coming, settled_shares
from solver.search.milp.highs import Highs
from solver.search.milp.integer_program import (
    CpSatProgram,
    Infeasible,
    ProgramOutOfTime,
    SolvedProgram,
)
from solver.show.documents.plan import plan_fields
from solver.show.pages.plan.page import plan_page
from solver.show.pages.plan.workbook import plan_workbook
from solver.show.text.plan import plan_text
from solver.show.text.plan_words import job_said
from solver.show.words import words_of
from solver.tasks.plan.answer import Plan, PlanSecondOpinion, Refusal
from solver.tasks.plan.hours import start_by
from solver.tasks.plan.plan import plan
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.price.unit_prices import UnitPrices
from tests.plan.bars import SYRUP, answer, bar_in, coming, on, planned, spec

SOUR = spec("Sour", gin="50 ml", lime_juice="25 ml", simple_syrup="20 ml")
LONG = spec("Long", gin="40 ml", soda_water="100 ml")
DEMO = Path(__file__).parents[2] / "demo"


def test_what_is_missing_is_ordered_in_whole_bottles(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,0.5 bottles\nsoda-water,200 ml,0.5,50 bottles\n", LONG)
    plan = planned(coming((0, 30)), bar)
    (order,) = plan.orders
    assert (order.ingredient.key, order.units, order.cost) == ("gin", 2, 40.0)
    assert order.left == pytest.approx(350 + 1400 - 30 * 40)
    assert plan.proven


def test_one_drink_is_said_as_one(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,1 bottle\nsoda-water,200 ml,0.5,9 bottles\n", LONG)
    assert plan_text(planned(coming((0, 1)), bar), bar).startswith("Plan: 1 drink, ")
    assert plan_text(planned(coming((0, 2)), bar), bar).startswith("Plan: 2 drinks, ")


def test_cases_are_bought_whole_from_whom_the_shelf_names(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,0,,,6,North Quay\nsoda-water,200 ml,0.5,0,,,24,\n"
    plan = planned(coming((0, 30)), bar_in(tmp_path, shelf, LONG))
    told = {order.ingredient.key: (order.units, order.cost) for order in plan.orders}
    assert told == {"gin": (1, 120.0), "soda-water": (1, 12.0)}
    assert plan.orders[-1].supply.supplier == "North Quay"


def test_fruit_is_pressed_whole_on_the_night_and_bought_by_the_piece(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,10 bottles\nlime-juice,,,0\nwhole-limes,,0.004,0\n"
        "simple-syrup,1 l,1,2 bottles\n"
    )
    plan = planned(coming((2, 40)), bar_in(tmp_path, shelf, SOUR))
    (job,) = plan.jobs
    assert job.ready == on(2)
    assert job.supply.fruit is not None
    assert job.amount >= 40 * 25
    assert job.amount - job.amount / job.units < 40 * 25  # one lime fewer would not do
    (order,) = plan.orders
    assert (order.ingredient.key, order.units) == ("whole-limes", job.units)


def test_limes_in_stock_are_counted_once_and_not_as_juice_too(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,10 bottles\nwhole-limes,80 g,0.35,20 pieces\nsimple-syrup,1 l,1,2 bottles\n"
    )
    bar = bar_in(tmp_path, shelf, SOUR)
    plan = planned(coming((0, 40)), bar)
    (job,), (order,) = plan.jobs, plan.orders
    assert order.units == job.units - 20
    assert f"\n  {order.units} limes, " in plan_text(plan, bar)
    assert order.cost == pytest.approx(0.35 * order.units)


def test_what_nobody_makes_is_bought_in_usual_bags(tmp_path: Path) -> None:
    house = SYRUP.replace("water =", 'honey = "100 g"\ncassia = "10 g"\nwater =').replace(
        "813", "889"
    )
    drink = spec("Sour", gin="50 ml", plain="20 ml")
    bar = bar_in(tmp_path, "gin,700 ml,20,10 bottles\n", drink, house=house)
    plan = planned(coming((3, 20)), bar)
    assert [job.ingredient.key for job in plan.jobs] == ["plain"]
    units = {order.ingredient.key: order.supply.unit for order in plan.orders}
    honey_ml = pytest.approx(500 / bar.bottles.find("honey").weight_g(1.0))
    assert units == {"white-sugar": 1000, "honey": honey_ml, "cassia": 100}
    said = plan_text(plan, bar)
    assert "How much a bag of cassia cinnamon holds is not known: taken as 100 g." in said
    assert "How much a bottle of honey holds is not known: taken as 500 g." in said
    assert "no recipe" not in said


def test_fruit_to_cut_is_in_the_order_but_stops_no_drink(tmp_path: Path) -> None:
    garnished = spec("a", gin="50 ml").replace(
        "\n[[pours]]", 'garnish = "lime wheel"\n\n[[pours]]', 1
    )
    bar = bar_in(tmp_path, "gin,700 ml,20,2 L,,,,\n", garnished)
    found = answer(coming((0, 20)), bar)
    assert isinstance(found, Plan)
    # A lime makes eight wheels (ingredients/yields/fruit.toml).
    assert [(order.ingredient.key, order.units) for order in found.orders] == [("whole-limes", 3)]
    assert isinstance(answer(coming((0, 20), spend=0.0), bar), Plan)


def test_herbs_are_in_the_order_and_what_nobody_counts_of_a_garnish_is_told(tmp_path: Path) -> None:
    garnish = 'garnish = "8 mint leaves, shaken with it, and a sprig of mint, grated nutmeg"'
    drink = spec("a", gin="50 ml").replace("\n[[pours]]", f"{garnish}\n\n[[pours]]", 1)
    bar = bar_in(tmp_path, "gin,700 ml,20,7 L,,,,\n", drink)
    found = planned(coming((0, 80)), bar)
    # Eight leaves of 0.05 g and a sprig of 1 g are 112 g for eighty, of bags of 100 g.
    assert [(order.ingredient.key, order.units) for order in found.orders] == [("mint-leaves", 2)]
    said = plan_text(found, bar)
    assert "  mint leaves: 2 bags of 100 g" in said
    assert "For garnishes, and not in the order: nutmeg." in said
    fields = plan_fields(found, bar)
    assert fields["not_in_order"] == ["nutmeg"]
    nothing = planned(coming((0, 80), spend=0.0), bar)
    assert not nothing.orders
    assert "not in the order: mint leaves and nutmeg." in plan_text(nothing, bar)


def test_a_lemon_costs_what_its_juice_is_priced_at(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "lemon juice,1 L,8,0,,,,\n", spec("a", lemon_juice="30 ml"))
    found = answer(coming((0, 100)), bar)
    assert isinstance(found, Plan)
    poured = UnitPrices(bar).of("lemon-juice")
    assert poured is not None
    # 3 L are poured; what is ordered beyond them is less than a lemon's.
    assert 3000 * poured.price <= found.cost < 3040 * poured.price


def test_what_is_not_counted_on_the_shelf_is_bought_and_said(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,,,,,\n", spec("a", gin="50 ml"))
    found = answer(coming((0, 14)), bar)
    assert isinstance(found, Plan)
    assert [order.units for order in found.orders] == [1]
    assert "Not counted on the shelf, so taken as none: gin" in plan_text(found, bar)


def test_drinks_without_a_share_say_which_was_taken(tmp_path: Path) -> None:
    specs = [spec(name, gin="50 ml") for name in "abc"]
    bar = bar_in(tmp_path, "gin,700 ml,20,2 L,,,,\n", *specs)
    said = plan_text(answer(coming((0, 20), shares="a=40% b c"), bar), bar)
    assert "each of b and c may be 15 to 60 % of the drinks" in said
    assert "No share" not in plan_text(answer(coming((0, 20), shares="a=40% b"), bar), bar)


def test_a_second_solver_is_asked_on_demand(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,2 L,,,,\n", spec("a", gin="50 ml"))
    for asked in (coming((0, 20)), coming((0, 200), spend=0.0)):
        found = plan(asked, bar, Clock.of(60), second=Highs())
        assert isinstance(found, Plan | Refusal)
        assert found.second == PlanSecondOpinion(SecondVerdict.AGREES)
        assert "(HiGHS) agrees" in plan_text(found, bar)


class Doubting(CpSatProgram):
    """A solver that knows what is best in the first stage only to a per cent."""

    asked = 0

    def minimise(self, *given: Any, **more: Any) -> SolvedProgram | Infeasible | ProgramOutOfTime:
        found = super().minimise(*given, **more)
        self.asked += 1
        if isinstance(found, SolvedProgram) and self.asked == 1:
            return replace(found, bound=0.99 * found.value)
        return found


def test_a_second_solver_agrees_with_what_is_best_only_where_it_knows_as_much(
    tmp_path: Path,
) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,,,,,\n", spec("a", gin="50 ml"))
    found = plan(coming((0, 200)), bar, Clock.of(60), CpSatProgram(), Doubting())
    assert isinstance(found, Plan)
    assert found.proven
    assert 0.01 * found.stages[0].value > found.stages[0].within
    assert found.second == PlanSecondOpinion(SecondVerdict.OPEN)


def test_a_batch_is_cooked_whole_and_started_in_time(tmp_path: Path) -> None:
    drink = spec("Sour", gin="50 ml", plain="20 ml")
    shelf = "gin,700 ml,20,10 bottles\nwhite-sugar,1 kg,1.2,0.4 bottles\n"
    bar = bar_in(tmp_path, shelf, drink, house=SYRUP)
    plan = planned(coming((3, 60)), bar)
    (job,) = plan.jobs
    assert job.units == 2
    assert job.amount == pytest.approx(1626, rel=0.01)
    assert dict(job.weigh)["granulated sugar"] == 1000
    # 20 hours of steeping and half an hour of work before six o'clock in the evening.
    assert job.start == datetime.combine(on(2), time(21, 30))
    assert job.use_by == on(8)
    assert {order.ingredient.key: order.units for order in plan.orders} == {"white-sugar": 1}


def test_a_night_before_anything_can_be_cooked_is_refused_with_the_reason(tmp_path: Path) -> None:
    drink = spec("Sour", gin="50 ml", plain="20 ml")
    shelf = "gin,700 ml,20,10 bottles\nwhite-sugar,1 kg,1.2,4 bottles\n"
    found = answer(coming((0, 60)), bar_in(tmp_path, shelf, drink, house=SYRUP))
    assert isinstance(found, Refusal)
    assert found.conflict == (f"60 drinks on {on(0)}",)
    assert not found.ways  # nothing would be poured
    (short,) = found.in_the_way
    assert short.startswith("the syrup: 0 mL there; more takes")
    assert f"so none is ready before {on(1)}" in short
    assert short in plan_text(found, load_bar(tmp_path))


def test_without_purchases_what_is_past_its_day_is_named_as_the_reason(tmp_path: Path) -> None:
    shelf = f"gin,700 ml,20,10 bottles\nsoda-water,200 ml,0.5,50 bottles,,{on(-1)}\n"
    found = answer(coming((0, 10), spend=0.0), bar_in(tmp_path, shelf, LONG))
    assert isinstance(found, Refusal)
    assert found.in_the_way == (
        f"soda water: 0 mL there, the rest past its last day, {on(-1)}, and nothing may be bought",
    )


def test_the_kitchen_cooks_on_its_days(tmp_path: Path) -> None:
    drink = spec("Sour", gin="50 ml", plain="20 ml")
    shelf = "gin,700 ml,20,10 bottles\nwhite-sugar,1 kg,1.2,4 bottles\n"
    bar = bar_in(tmp_path, shelf, drink, house=SYRUP)
    plan = planned(coming((4, 60), cook_on=frozenset({1})), bar)
    assert [job.day for job in plan.jobs] == [on(1)]


def test_what_is_past_its_day_is_not_poured_and_said(tmp_path: Path) -> None:
    shelf = f"gin,700 ml,20,10 bottles\nsoda-water,200 ml,0.5,50 bottles,,{on(-1)}\n"
    plan = planned(coming((0, 10)), bar_in(tmp_path, shelf, LONG))
    assert {order.ingredient.key: order.units for order in plan.orders} == {"soda-water": 5}
    assert [i.key for i in plan.question.items if i.past] == ["soda-water"]


def test_what_will_spoil_names_the_drinks_that_would_save_it(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,10 bottles\nsoda-water,200 ml,0.5,90 bottles\nlime-juice,1 l,8,500 ml,,"
        f"{on(0)}\nsimple-syrup,1 l,1,2 bottles\n"
    )
    bar = bar_in(tmp_path, shelf, SOUR, LONG)
    plan = planned(coming((0, 10), shares="b"), bar)
    assert not plan.endings  # nothing of the plan pours it
    plan = planned(coming((0, 10), shares="a=20% b"), bar)
    (ending,) = plan.endings
    assert (ending.ingredient.key, ending.amount) == ("lime-juice", 450)
    assert ending.worth == pytest.approx(3.6)
    assert [(s.spec.name, s.serves, s.planned) for s in ending.specials] == [("Sour", 18, True)]
    assert "18 more Sour by Mon 2026-05-04 would use it up; or" in plan_text(plan, bar)


def test_a_range_is_poured_as_suits_what_spoils(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,10 bottles\nsoda-water,200 ml,0.5,90 bottles\nlime-juice,1 l,8,500 ml,,"
        f"{on(1)}\nsimple-syrup,1 l,1,2 bottles\n"
    )
    bar = bar_in(tmp_path, shelf, SOUR, LONG)
    plan = planned(coming((0, 20), (1, 20), shares="a=10..60% b"), bar)
    assert not plan.endings
    assert sum(count for e in plan.evenings for s, count in e.drinks if s.name == "Sour") == 20


def test_what_must_be_gone_is_gone_but_for_less_than_a_serve(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,10 bottles\nsoda-water,200 ml,0.5,90 bottles\nlime-juice,1 l,8,510 ml\n"
        "simple-syrup,1 l,1,2 bottles\n"
    )
    bar = bar_in(tmp_path, shelf, SOUR, LONG)
    asked = coming((0, 40), shares="a=10..90% b", use_up={"lime juice": on(0)})
    plan = planned(asked, bar)
    course = next(c for c in plan.courses if c.ingredient.key == "lime-juice")
    assert course.amounts[-1] < 25
    few = coming((0, 40), shares="a=10..30% b", use_up={"lime juice": on(0)})
    found = answer(few, bar)
    assert isinstance(found, Refusal)
    assert found.conflict == ("at most 30 % Sour", f"no lime juice, fresh left after {on(0)}")
    nearest = {way.nearest for way in found.ways}
    assert f"210 mL of lime juice, fresh left after {on(0)}" in nearest
    assert "10..48 % Sour" in nearest  # 19.2 of 40 drinks: 20, to the whole drink


def test_no_purchases_drinks_and_a_share_cannot_hold_together(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,2 bottles\nsoda-water,200 ml,0.5,40 bottles\nvodka,700 ml,15,1 bottle\n"
    other = spec("Other", vodka="50 ml")
    bar = bar_in(tmp_path, shelf, LONG, other)
    found = answer(coming((0, 45), shares="a b=40..80%", spend=0.0), bar)
    assert isinstance(found, Refusal)
    assert found.conflict == (f"45 drinks on {on(0)}", "at least 40 % Other", "nothing bought")
    assert {way.nearest for way in found.ways} == {
        f"37 drinks on {on(0)}", "15.00 EUR spent", "33..80 % Other",
    }  # fmt: skip


def test_what_the_order_costs_is_enough_to_spend(tmp_path: Path) -> None:
    """The syrup is made in the house: its price counts where it spoils, and is in no order."""
    tea = spec("Tea", gin="50 ml", simple_syrup="90 ml")
    shelf = "gin,700 ml,20,0\nsimple-syrup,1 l,0.6,0\n"
    bar = bar_in(tmp_path, shelf, tea)
    free = planned(coming((0, 28)), bar)
    assert [job.ingredient.key for job in free.jobs] == ["simple-syrup"]
    assert free.cost == 40.0
    assert planned(coming((0, 28), spend=40.0), bar).orders == free.orders
    found = answer(coming((0, 28), spend=39.99), bar)
    assert isinstance(found, Refusal)
    assert "40.00 EUR spent" in {way.nearest for way in found.ways}


@pytest.mark.parametrize("each", [0.351, 0.3514, 0.34949, 0.12345])
def test_an_order_that_is_told_to_the_cent_is_kept_to_the_cent(tmp_path: Path, each: float) -> None:
    shelf = f"gin,700 ml,20,50 bottles\nsoda-water,200 ml,{each},0\n"
    bar = bar_in(tmp_path, shelf, LONG)
    told = float(f"{planned(coming((0, 141)), bar).cost:.2f}")
    assert planned(coming((0, 141), spend=told), bar).orders
    assert isinstance(answer(coming((0, 141), spend=told - 0.01), bar), Refusal)


def test_a_most_to_spend_needs_the_prices_of_what_may_be_bought(tmp_path: Path) -> None:
    shelf = "gin,700 ml,,0.5 bottles\nsoda-water,200 ml,0.5,0\n"
    bar = bar_in(tmp_path, shelf, LONG)
    with pytest.raises(BadInput, match="no price of gin") as raised:
        answer(coming((0, 30), spend=20.0), bar)
    assert "gin" in raised.value.what
    assert planned(coming((0, 8), spend=20.0), bar).cost == 2.0  # the gin is always enough
    found = answer(coming((0, 30), spend=0.0), bar)
    assert isinstance(found, Refusal)
    assert any(way.nearest.startswith("7.50 EUR spent, and gin") for way in found.ways)


def test_what_has_no_price_is_said_with_what_it_was_counted_as(tmp_path: Path) -> None:
    shelf = "gin,700 ml,,0.5 bottles\nsoda-water,200 ml,0.5,0\n"
    bar = bar_in(tmp_path, shelf, LONG)
    plan = planned(coming((0, 30)), bar)
    said = plan_text(plan, bar)
    name = bar.bottles.find("gin").name
    assert f"Order, 7.50 EUR; {name} has no price:" in said
    assert f"together ({name} has no price and is counted as 10.00 EUR the litre)" in said
    assert "counted as" not in plan_text(planned(coming((0, 8)), bar), bar)


def test_one_drink_is_one_and_little_ice_is_some(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,5 bottles\nsoda-water,200 ml,0.5,9 bottles\n"
    bar = bar_in(tmp_path, shelf, LONG)
    said = plan_text(planned(coming((0, 1)), bar), bar)
    assert said.startswith("Plan: 1 drink, Mon 2026-05-04\n")
    assert "ice 0.2 kg" in said
    assert "no ice" in plan_text(planned(coming((0, 0)), bar), bar)
    bare = bar_in(tmp_path, "gin,700 ml,20,0\nsoda-water,200 ml,0.5,0\n", LONG)
    found = answer(coming((0, 1), spend=0.0), bare)
    assert isinstance(found, Refusal)
    assert f"1 drink on {on(0)}" in found.conflict


def test_a_sparkling_bottle_is_opened_when_it_is_poured(tmp_path: Path) -> None:
    fizz = spec("Fizz", sparkling_wine="150 ml")
    bar = bar_in(tmp_path, "sparkling-wine,750 ml,9,8 bottles\n", fizz)
    plan = planned(coming((0, 7), (5, 3)), bar)
    assert not plan.orders
    # Of two bottles for seven glasses and one for three, what is left is gone in a day or two.
    assert {e.amount for e in (*plan.endings, *plan.later)} == {2 * 750 - 7 * 150, 750 - 3 * 150}
    assert len(plan.endings) == 1


def test_a_vermouth_that_a_night_opens_is_told_with_what_is_left_in_it(tmp_path: Path) -> None:
    mine = spec("a", gin="50 ml", sweet_vermouth="25 ml")
    shelf = "gin,700 ml,21,3 bottles\nsweet-vermouth,750 ml,12,3 bottles\n"
    found = planned(coming((2, 30), shares="a=100%"), bar := bar_in(tmp_path, shelf, mine))
    assert "Left in open bottles: 750 mL" not in plan_text(found, bar)  # two are closed
    found = planned(coming((2, 31), shares="a=100%"), bar)
    said = f"Left in open bottles: 725 mL sweet (rosso) vermouth ({on(62)})"
    assert said in plan_text(found, bar)
    words, told = words_of("en"), f"sweet (rosso) vermouth: 725 mL, last day Sun {on(62)}"
    assert told in plan_page(found, bar, words)
    sheet = openpyxl.load_workbook(io.BytesIO(plan_workbook(found, bar, words)))
    rows = sheet["Left after the last night"].iter_rows(min_row=2, max_col=2, values_only=True)
    assert [*rows] == [("sweet (rosso) vermouth", "725 mL")]


@pytest.mark.parametrize(
    ("whites", "nights", "eggs", "said"),
    [
        (50, ((0, 50),), 25, ["separate 25 eggs, 798 mL", "of the same eggs, 412 mL"]),
        (60, ((0, 50),), 30, ["separate 30 eggs, 957 mL", "of the same eggs, 330 mL"]),
        (
            40, ((0, 10), (5, 10)), 12,
            2 * ["separate 4 eggs, 128 mL", "of the same eggs, and separate 2 eggs more, 99 mL"],
        ),
    ],
)  # fmt: skip
def test_an_egg_gives_one_drink_its_white_and_another_its_yolk(
    whites: int, nights: tuple[tuple[int, int], ...], eggs: int, said: list[str], tmp_path: Path
) -> None:
    """On the same day: after five nothing of it is good."""
    drinks = spec("a", gin="50 ml", egg_white="1 piece"), spec("b", gin="50 ml", egg_yolk="1 piece")
    shelf = "gin,700 ml,21,30 bottles\nwhole-egg,10 pieces,2.90,0 pieces\n"
    found = planned(
        coming(*nights, shares=f"a={whites}% b={100 - whites}%"), bar_in(tmp_path, shelf, *drinks)
    )
    assert found.proven
    assert [str(job_said(job)) for job in found.jobs] == said
    (order,) = found.orders
    assert order.units == math.ceil(eggs / 10)
    assert order.left == pytest.approx((10 * order.units - eggs) * 48.5)
    assert "fewer do" not in plan_text(found, bar_in(tmp_path, shelf, *drinks))


def test_that_a_yolk_is_bought_beside_separated_eggs_is_said_with_the_proof(tmp_path: Path) -> None:
    drinks = spec("a", gin="50 ml", egg_white="1 piece"), spec("b", gin="50 ml", egg_yolk="1 piece")
    eggs = f"gin,700 ml,21,30 bottles\nwhole-egg,10 pieces,2.90,10 pieces,,{on(9)}\n"
    asked = coming((0, 4), shares="a=50% b=50%")
    for row, bought in (("egg-yolk,500 ml,6.90,0\n", False), ("egg-yolk,500 ml,6.90\n", True)):
        bar = bar_in(tmp_path, eggs + row, *drinks)
        said = plan_text(found := planned(asked, bar), bar)
        assert ("egg-yolk" in {order.ingredient.key for order in found.orders}) == bought
        assert ("Of all plans that buy egg yolk, without prep" in said) == bought
        told = "egg yolk, raw is bought, as the shelf lists it, and not taken"
        page = plan_page(found, bar, words_of("en"))
        assert (told in said, told in page) == (bought, bought)
        assert ("Proven: no plan that buys egg yolk, raw is better." in page) == bought


def test_papers_say_that_eggs_have_no_date_and_what_is_ordered_nowhere(tmp_path: Path) -> None:
    drink = f'garnish = "grated nutmeg"\n{spec("a", gin="50 ml", whole_egg="1 piece")}'
    shelf = "gin,700 ml,21,30 bottles\nwhole-egg,10 pieces,2.90,10 pieces\n"
    found = planned(coming((0, 4)), bar := bar_in(tmp_path, shelf, drink))
    page = plan_page(found, bar, words_of("en"))
    assert "No date is known of whole egg, raw: taken as bought today." in page
    assert "For garnishes, and not in the order: nutmeg." in page
    book = openpyxl.load_workbook(io.BytesIO(plan_workbook(found, bar, words_of("en"))))
    cells = [str(cell.value) for sheet in book for row in sheet for cell in row]
    assert any("No date is known of whole egg, raw" in cell for cell in cells)


def test_eggs_that_no_row_lists_are_ordered_as_eggs(tmp_path: Path) -> None:
    drinks = spec("a", gin="50 ml", egg_white="1 piece"), spec("b", gin="50 ml", egg_yolk="1 piece")
    bar = bar_in(tmp_path, "gin,700 ml,21,30 bottles\n", *drinks)
    found = planned(coming((0, 30), shares="a=50% b=50%"), bar)
    assert [(order.ingredient.key, order.units) for order in found.orders] == [("whole-egg", 2)]
    said = plan_text(found, bar)
    assert "  whole egg, raw: 2 cartons of 10 pieces" in said
    assert "(whole egg, raw has no price and is counted as 0.48 EUR the piece)" in said
    assert {job["how"] for job in plan_fields(found, bar)["prepare"]} == {"separate"}


def test_shares_without_a_number_divide_what_is_left() -> None:
    asked = coming((0, 10), shares="a=40% b=20..40% c d")
    low = settled_shares(asked, ("a", "b", "c", "d"))
    assert [share.wish for share in low] == [4000, 3000, 1500, 1500]
    assert (low[2].low, low[2].high) == (750, 3000)
    assert (low[0].low, low[0].high) == (4000, 4000)


@pytest.mark.parametrize("shares", ["a=70% b=60%", "a=40% b=20..30%"])
def test_shares_that_cannot_be_all_drinks_are_a_mistake(shares: str) -> None:
    with pytest.raises(BadInput, match="of the drinks") as raised:
        settled_shares(coming((0, 10), shares=shares), ("a", "b"))
    assert raised.value.remedy == "Name one without a share: b."


def test_a_plan_file_tells_every_mistake_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "p.toml"
    path.write_text(
        'spend = ">=3"\nopens = "eight"\n[[nights]]\ndate = 2026-05-08\n[[nights]]\n'
        'date = 2026-05-08\ndrinks = 4\n[shares]\na = "lots"\n',
        encoding="utf-8",
    )
    with pytest.raises(BadInputs) as raised:
        read_coming(path, load_bar(DEMO))
    lines = [error.where.line for error in raised.value.errors if error.where]
    assert sorted(filter(None, lines)) == [1, 2, 3, 6, 9]


def test_what_would_begin_at_night_begins_on_the_evening_before() -> None:
    opens = time(18)
    assert start_by(on(2), opens, 3) == datetime.combine(on(2), time(15))
    assert start_by(on(2), opens, 12) == datetime.combine(on(1), opens)
    assert start_by(on(2), opens, 26) == datetime.combine(on(1), time(16))
    assert start_by(on(2), opens, 2.2) == datetime.combine(on(2), time(15, 45))


def test_question_one_of_the_trade_is_answered(tmp_path: Path) -> None:
    """3.2 L of syrup for nine days, 1.1 L of orgeat for four, 6 kg of limes, 140 drinks, and
    nothing bought: which drinks, so that all of it is used?"""
    shelf = (
        f"rhubarb-syrup,1 l,3.4,3.2 l,,{on(9)}\norgeat,1 l,9,1.1 l,,{on(4)}\n"
        "whole-limes,1 kg,4,6 kg\nlime-juice,,,0\nwhite-rum,700 ml,18,5 bottles\n"
        "gin,700 ml,20,6 bottles\n"
    )
    house = SYRUP.replace("[plain]", "[rhubarb-syrup]").split("\n[plain.recipe")[0]
    bar = bar_in(
        tmp_path,
        shelf,
        spec("Rhubarb", gin="45 ml", lime_juice="12 ml", rhubarb_syrup="40 ml"),
        spec("Nutty", white_rum="45 ml", lime_juice="12 ml", orgeat="20 ml"),
        spec("Rum", white_rum="45 ml", lime_juice="12 ml", rhubarb_syrup="25 ml"),
        house=house,
    )
    nights = ((1, 20), (3, 40), (5, 30), (8, 50))
    asked = coming(
        *nights, shares="a=10..80% b=10..80% c=0..80%", spend=0.0,
        use_up={"rhubarb-syrup": on(9), "orgeat": on(4)},
    )  # fmt: skip
    found = answer(asked, bar)
    assert isinstance(found, Refusal)  # the orgeat alone would need fifty-five of sixty drinks
    assert any("left after" in said for said in found.conflict)
    looser = coming(*nights, shares="a b=0..95% c=0..80%", spend=0.0, use_up=asked.use_up)
    plan = planned(looser, bar)
    assert not plan.orders
    assert sum(evening.count for evening in plan.evenings) == 140
    left = {c.ingredient.key: c.amounts[-1] for c in plan.courses}
    assert left["rhubarb-syrup"] < 25
    assert left["orgeat"] < 20


def test_a_syrup_that_is_delivered_is_ordered_and_not_cooked(tmp_path: Path) -> None:
    head = "ingredient,bottle,price,on_hand,supplier\n"
    drink = spec("Sour", gin="50 ml", lime_juice="25 ml", rich_syrup="20 ml")
    bar_in(tmp_path, "", drink)
    for supplier, how in (("", SupplyWay.MAKE), ("the cellar", SupplyWay.BUY)):
        rows = (
            f"gin,700 ml,20,10 bottles,\nlime-juice,1 l,8,9 l,\nrich-syrup,70 cl,9,0,{supplier}\n"
        )
        (tmp_path / "shelf.csv").write_text(head + rows, encoding="utf-8")
        plan = planned(coming((0, 10)), load_bar(tmp_path))
        (item,) = (item for item in plan.question.items if item.key == "rich-syrup")
        assert item.supply is not None
        assert item.supply.how is how


def test_no_night_has_more_of_a_glass_or_technique_than_there_can_be(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,9 bottles\nlime-juice,1 l,5,9 l\nsoda-water,200 ml,1,99 bottles\n"
    sour = spec("Sour", gin="50 ml", lime_juice="25 ml")
    bar = replace(
        bar_in(tmp_path, shelf, sour, LONG.replace('"sour"', '"highball"')),
        most_a_night={"shake": 9, "coupe": 30},
    )
    found = planned(coming((0, 20), (1, 30), shares="Sour=20..80% Long"), bar)
    assert all(evening.drinks[0][1] <= 9 for evening in found.evenings)
    no = answer(coming((0, 20), shares="Sour=50% Long"), bar)
    assert isinstance(no, Refusal)
    assert "at most 9 shake a night" in no.conflict
    assert "10 shake a night" in {way.nearest for way in no.ways}


def test_ice_is_what_the_bar_says_of_a_drink_that_is_made_with_ice(tmp_path: Path) -> None:
    neat = spec("Neat", gin="50 ml").replace('"sour"', '"sour"\ntechnique = "none"')
    bar = bar_in(tmp_path, "gin,700 ml,20,9 bottles\nsoda-water,200 ml,1,99 bottles\n", LONG, neat)
    own = replace(bar, costing=Costing(ice_g=250.0, stated=frozenset({"ice_per_drink"})))
    (evening,) = planned(coming((0, 40), shares="Long=50% Neat"), own).evenings
    assert evening.ice_kg == pytest.approx(20 * 0.25)
    assert planned(coming((0, 40), shares="Long=50% Neat"), bar).evenings[0].ice_kg < 20 * 0.25
    said = plan_text(planned(coming((0, 40), shares="Long=100%"), own), own)
    assert "Ice: as bar.toml says." in said


def test_what_spoils_is_told_with_its_day_and_its_worth_whether_a_drink_takes_it_or_not(
    tmp_path: Path,
) -> None:
    house = SYRUP.replace('water = "500 g"', 'water = "500 g"\nlemon-peel = "1 g"')
    drink = spec("Sour", gin="50 ml", plain="20 ml")
    shelf = (
        f"gin,700 ml,20,9 bottles\nwhite-sugar,1 kg,2,9 kg\nlemon-peel,1 kg,4,940 g,,{on(1)}\n"
        f"plain,813 ml,2,813 ml,{on(0)}\n"
    )
    bar = bar_in(tmp_path, shelf, drink, house=house)
    said = plan_text(planned(coming((3, 20)), bar), bar)
    assert f"lemon peel: 940 g, last day Tue {on(1)}, worth 3.76 EUR" in said


def test_that_there_was_no_time_is_said_only_where_there_was_none(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, "gin,700 ml,20,0\n", spec("a", gin="50 ml"))
    found = answer(coming((0, 10), (1, 10), spend=0.0), bar)
    assert isinstance(found, Refusal)
    many = replace(found, others=11, complete=False)
    said = plan_text(many, bar)
    assert "There are at least 11 more such clashes." in said
    assert "no time" not in said
    assert "There was no time" in plan_text(replace(many, undecided=True), bar)
    assert "There is one more such clash." in plan_text(
        replace(found, others=1, complete=True), bar
    )


def test_one_lime_is_pressed_and_not_one_limes(tmp_path: Path) -> None:
    shelf = "gin,700 ml,20,9 bottles\nwhole-limes,,0.3,9 pieces\n"
    bar = bar_in(tmp_path, shelf, spec("a", gin="50 ml", lime_juice="10 ml"))
    assert "press 1 lime, " in plan_text(planned(coming((0, 2)), bar), bar)
    assert "press 2 limes, " in plan_text(planned(coming((0, 4)), bar), bar)
