"""What a menu of a bar says: drinks, nights, margins, guests, what spoils, and why it can't be."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from solver.clock import Clock
from solver.drinks.assess import assess
from solver.errors import BadInput, BadInputs
from solver.night.best_plan import NightAim
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import find_spec
from solver.show.documents.menu import menu_json
from solver.show.text.menu import menu_csv, menu_text
from solver.tasks.menu.answer import Menu, MenuAnswer, NoMenu
from solver.tasks.menu.menu import menu
from solver.tasks.menu.read_menu import WrittenMenu, read_menu
from solver.tasks.plan.answer import Refusal
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.price.drink_cost import cost_of
from solver.tasks.price.price_book import costed_for
from solver.tasks.price.unit_prices import UnitPrices
from tests.plan.bars import SYRUP, bar_in, on, spec

SOUR = spec("Sour", gin="50 ml", lime_juice="25 ml", simple_syrup="20 ml")
LONG = spec("Long", gin="40 ml", soda_water="100 ml")
RUM = spec("Rum", white_rum="50 ml", lime_juice="25 ml", simple_syrup="20 ml")
TEA = spec("Tea", strong_black_tea="120 ml", lime_juice="20 ml", simple_syrup="25 ml")
NUTTY = spec("Nutty", white_rum="45 ml", lime_juice="20 ml", orgeat="20 ml")
FULL = (
    "gin,700 ml,20,9 bottles\nsoda-water,200 ml,0.5,90 bottles\nlime-juice,1 l,8,9 bottles\n"
    "simple-syrup,1 l,1,9 bottles\nwhite-rum,700 ml,18,9 bottles\n"
    "strong-black-tea,1 l,0.6,9 bottles\norgeat,1 l,9,2 bottles\n"
)


def ask(
    bar: Bar,
    margin: str | None = None,
    seconds: float = 60.0,
    *,
    waste_first: bool = False,
    **more: Any,
) -> MenuAnswer:
    bar = costed_for(bar, margin, None, None)
    asked = WrittenMenu(**{"forecast": 40, "new": False, **more})
    return menu(read_menu(asked, bar), bar, Clock.of(seconds), waste_first=waste_first)


def chosen(bar: Bar, margin: str | None = None, seconds: float = 60.0, **more: Any) -> Menu:
    found = ask(bar, margin, seconds, **more)
    assert isinstance(found, Menu), getattr(found, "found", found)
    return found


def refused(bar: Bar, margin: str | None = None, **more: Any) -> Refusal:
    found = ask(bar, margin, **more)
    assert isinstance(found, NoMenu)
    assert isinstance(found.found, Refusal)
    return found.found


def names(found: Menu) -> set[str]:
    return {offer.drink.spec.name for offer in found.offers}


def pour_out(found: Menu, stock: dict[str, float], dated: dict[str, int]) -> dict[str, float]:
    """Pour a menu night by night from what the shelf held and what is pressed; what is left.

    `stock` is in mL or g; `dated` says after which day, counted from today, a thing is gone.
    """
    left, days = dict(stock), {evening.day: evening for evening in found.plan.evenings}
    for day in range(max((each - on(0)).days for each in days) + 1):
        for job in found.plan.jobs:
            if job.ready == on(day):
                assert job.supply.how is SupplyWay.PRESS or job.ingredient.key == "strong-black-tea"
                for key, amount in job.supply.takes.items():
                    left[key] -= job.units * amount
                left[job.ingredient.key] = left.get(job.ingredient.key, 0.0) + job.amount
        for drink, count in days[on(day)].drinks if on(day) in days else ():
            offer = next((o for o in found.offers if o.drink.spec.name == drink.name), None)
            assert offer is not None or not count
            for key, each in offer.drink.takes.items() if offer else ():
                left[key] -= count * each
        assert all(amount > -1e-6 for amount in left.values()), (day, left)
        left = {k: 0.0 if dated.get(k) == day else amount for k, amount in left.items()}
    return left


def test_what_is_dated_is_poured_in_time_by_whoever_takes_it(tmp_path: Path) -> None:
    shelf = FULL.replace("orgeat,1 l,9,2 bottles", f"orgeat,1 l,9,600 ml,,{on(1)}")
    bar = bar_in(tmp_path, shelf, SOUR, RUM, LONG, NUTTY, TEA)
    found = chosen(bar, until=on(3), share="10..80%", forecast=80)
    assert "Nutty" in names(found)
    nutty = next(offer for offer in found.offers if offer.drink.spec.name == "Nutty")
    assert sum(nutty.nights[:2]) == 30  # 20 mL each
    assert not any(nutty.nights[2:])  # it is off the menu when its orgeat is gone
    assert not found.plan.endings
    assert "until Tue 2026-05-05; uses 600 mL" in menu_text(found, bar)


def test_a_drink_that_keeps_too_little_of_its_price_is_not_offered(tmp_path: Path) -> None:
    dear = spec("Dear", gin="180 ml", soda_water="50 ml")
    bar = bar_in(tmp_path, FULL, LONG, RUM, TEA, dear)
    found = chosen(bar, "78%", price="11.50", share="5..80%")
    assert "Dear" not in names(found)
    assert [each.spec.name for each in found.dear] == ["Dear"]
    for offer in found.offers:
        prices = {"gin": 20 / 700, "white-rum": 18 / 700, "lime-juice": 0.008}
        prices |= {"simple-syrup": 0.001, "soda-water": 0.0025, "strong-black-tea": 0.0006}
        cost = sum(prices[key] * each for key, each in offer.drink.takes.items())
        assert 1.1 * cost <= 0.22 * 11.50  # with what is spilled and left in bottles, some 4 %
        assert offer.drink.asking is not None
        assert offer.drink.asking.margin >= 0.78


def test_a_margin_that_is_missed_by_less_than_it_is_counted_in_is_missed(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, LONG, RUM, TEA, spec("Dear", gin="90 ml"))
    cost = cost_of(find_spec("dear", bar.specs), bar, UnitPrices(bar)).total
    assert cost is not None
    for kept, dear in ((0.78001, []), (0.77996, ["Dear"])):
        found = chosen(bar, "78%", price=f"{cost / (1 - kept):.4f}", share="5..80%")
        assert [each.spec.name for each in found.dear] == dear


def test_where_a_margin_is_asked_no_drink_is_offered_whose_cost_nobody_knows(
    tmp_path: Path,
) -> None:
    shelf = FULL.replace("orgeat,1 l,9,", "orgeat,1 l,,")
    bar = bar_in(tmp_path, shelf, LONG, RUM, TEA, NUTTY)
    asked: dict[str, Any] = {"share": "20..50%", "words": ("nutty",)}
    assert "Nutty" in names(chosen(bar, **asked))
    no = refused(bar, "78%", priced=True, **asked)
    assert set(no.conflict) == {"Nutty on the menu", "a margin of 78 %"}
    assert "a drink whose cost is not known" in {way.nearest for way in no.ways}
    found = chosen(bar, "78%", share="10..50%", priced=True)
    assert "Nutty" not in names(found)
    said = "Not offered, as not all that is in it has a price: Nutty."
    assert said in menu_text(found, bar)


def test_drinks_purchases_and_a_margin_cannot_hold_together(tmp_path: Path) -> None:
    shelf = (
        "gin,700 ml,20,3 bottles\nsoda-water,200 ml,0.5,90 bottles\nwhite-rum,700 ml,40,9 bottles\n"
    )
    bar = bar_in(tmp_path, shelf, LONG, spec("Other", white_rum="60 ml", soda_water="50 ml"))
    found = refused(bar, "78%", price="12", spend="0", forecast=60, share="0..100%")
    assert set(found.conflict) == {"60 drinks", "nothing bought", "a margin of 78 %"}
    nearest = {way.nearest for way in found.ways}
    assert "52 drinks" in nearest
    assert "20.00 EUR spent" in nearest
    assert any(said.startswith("a margin of 6") for said in nearest)


def test_a_guest_finds_a_drink_on_every_night_or_it_is_said(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, SOUR, RUM, LONG, NUTTY, TEA)
    found = chosen(bar, until=on(1), guests=("no alcohol", "nuts"), sober="15%")
    assert all(offer.serves <= 6 for offer in found.offers if offer.drink.sober)
    tea = next(offer for offer in found.offers if offer.drink.spec.name == "Tea")
    assert all(tea.nights)
    said = " ".join(menu_text(found, bar).split())
    suited = said.partition('For "nuts": ')[2].partition(".")[0]
    assert suited
    assert "Nutty" not in suited
    assert 'For "no alcohol": Tea.' in said
    assert ("allergens: nuts" in menu_csv(found, bar)) == ("Nutty" in names(found))
    (tmp_path / "specs" / "e.toml").unlink()
    no = refused(load_bar(tmp_path), guests=("no alcohol",), share="0..100%")
    assert no.conflict == ('a drink for "no alcohol"',)
    assert [way.dropped for way in no.ways] == [('a drink for "no alcohol"',)]


def test_glasses_and_techniques_suffice(tmp_path: Path) -> None:
    bar_in(tmp_path, FULL, SOUR, RUM, LONG.replace('"sour"', '"highball"'))
    with (tmp_path / "bar.toml").open("a") as file:
        file.write("[most_a_night]\nshake = 9\n")
    bar = load_bar(tmp_path)
    found = chosen(bar, share="10..90%")
    shaken = [o for o in found.offers if o.drink.cost.made.technique == "shake"]
    assert sum(offer.serves for offer in shaken) <= 9
    no = refused(bar, share="0..60%")
    assert "at most 9 shake a night" in no.conflict
    assert "16 shake a night" in {way.nearest for way in no.ways}


def test_a_capacity_of_what_nobody_knows_is_a_mistake_with_its_line(tmp_path: Path) -> None:
    bar_in(tmp_path, FULL, SOUR)
    with (tmp_path / "bar.toml").open("a") as file:
        file.write("[most_a_night]\nshaek = 9\n")
    with pytest.raises((BadInput, BadInputs), match="shaek") as raised:
        load_bar(tmp_path)
    assert "bar.toml, line 6" in str(raised.value)


def test_no_bottle_is_bought_for_one_drink_alone(tmp_path: Path) -> None:
    shelf = FULL.replace("white-rum,700 ml,18,9 bottles", "white-rum,700 ml,18,0")
    bar = bar_in(tmp_path, shelf, LONG, TEA, RUM)
    assert "Rum" not in names(chosen(bar, share="10..90%"))
    other = bar_in(tmp_path, shelf, LONG, TEA, RUM, spec("Twice", white_rum="50 ml"))
    asked = chosen(other, share="10..90%", words=("Rum",))
    assert {"Rum", "Twice"} <= names(asked)
    assert [order.ingredient.key for order in asked.plan.orders] == ["white-rum"]


def test_bases_vary_where_it_costs_little_more(tmp_path: Path) -> None:
    gins = [spec(f"Gin {n}", gin="50 ml", lime_juice=f"{20 + n} ml") for n in range(3)]
    bar = bar_in(tmp_path, FULL, *gins, RUM, TEA)
    found = chosen(bar, most=3, share="20..60%", forecast=10)
    assert len([name for name in names(found) if name.startswith("Gin")]) <= 1


def test_a_spec_that_is_named_is_on_it_with_its_share(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, SOUR, RUM, LONG, NUTTY, TEA)
    found = chosen(bar, words=("long=30%", "sour"))
    serves = {offer.drink.spec.name: offer.serves for offer in found.offers}
    assert serves["Long"] == 12
    assert "No share was stated" not in menu_text(found, bar)
    assert 4 <= serves["Sour"] <= 16


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"forecast": 3, "until": on(5)}, "3 drinks are fewer than 6 nights have"),
        ({"until": on(-1)}, "is over"),
        ({"share": "60"}, "is not a share"),
        ({"share": "0%"}, "no share that a drink could have"),
        ({"forecast": None}, "how many drinks there will be is not said"),
        ({"words": ("nothing",)}, "'nothing' is not a spec of this bar"),
        ({"words": ("sour", "Sour")}, "named twice"),
        ({"guests": ("xyzzy",)}, "xyzzy"),
    ],
)
def test_what_cannot_be_read_is_said(tmp_path: Path, more: dict[str, Any], says: str) -> None:
    bar = bar_in(tmp_path, FULL, SOUR, RUM)
    with pytest.raises((BadInput, BadInputs), match=says):
        ask(bar, **more)


def test_question_one_of_the_trade_is_asked_and_answered(tmp_path: Path) -> None:
    """3.2 L of house syrup for nine days, 1.1 L of orgeat for four, 6 kg of limes, 140 drinks: at
    which mL is all of it used, at 78 %, within the bands of the profiles, and nothing bought?"""
    shelf = (
        f"rhubarb-syrup,1 l,3.4,3.2 l,,{on(9)}\norgeat,1 l,9,1.1 l,,{on(4)}\n"
        "whole-limes,1 kg,4,6 kg\nlime-juice,,,0\nwhite-rum,700 ml,18,7 bottles\n"
        "gin,700 ml,20,7 bottles\nstrong-black-tea,1 l,0.6,9 l\nbourbon,700 ml,24,5 bottles\n"
        "soda-water,200 ml,0.5,120 bottles\naromatic-bitters,200 ml,15,1 bottle\n"
    )
    house = SYRUP.replace("[plain]", "[rhubarb-syrup]").split("\n[plain.recipe")[0]
    house = house.replace('kind = "syrup/plain"', 'kind = "syrup/fruit"')
    house = house.replace("life = { days = 5", "life = { days = 30")
    bar = bar_in(tmp_path, shelf, NUTTY, house=house)
    found = chosen(
        bar, "78%", forecast=140, until=on(9), spend="0", price="11.50", share="5..60%", new=True,
        guests=("no alcohol", "nuts"), seconds=8.0, of=("rhubarb-syrup", "orgeat"),
    )  # fmt: skip
    assert sum(offer.serves for offer in found.offers) == 140
    assert not found.plan.orders
    assert found.new
    for offer in found.new:
        assert assess(offer.drink.spec, bar).off_aim == pytest.approx(0.0, abs=1e-6)
    assert all(o.drink.asking and o.drink.asking.margin >= 0.78 for o in found.offers)
    stock = {"rhubarb-syrup": 3200.0, "orgeat": 1100.0, "whole-limes": 6000.0, "lime-juice": 0.0}
    stock |= {"white-rum": 4900.0, "gin": 4900.0, "bourbon": 3500.0, "strong-black-tea": 9000.0}
    stock |= {"soda-water": 24000.0, "aromatic-bitters": 200.0}
    left = pour_out(found, stock, {"rhubarb-syrup": 9, "orgeat": 4})
    assert left["orgeat"] == left["rhubarb-syrup"] == 0
    waste = {ending.ingredient.key: ending.amount for ending in found.plan.endings}
    # Limes are for some 90 of the drinks, and 60 % of a night's are of one sort at most.
    assert waste.get("orgeat", 0.0) < 300
    assert waste.get("rhubarb-syrup", 0.0) < 2400
    assert menu_csv(found, bar).count("\r\n") == 1 + len(found.offers)


def test_what_the_book_has_already_is_no_new_drink(tmp_path: Path) -> None:
    asked: dict[str, Any] = {"new": True, "of": ("gin",), "share": "1..100%", "seconds": 15.0}
    first = chosen(bar_in(tmp_path, FULL, TEA), **asked)
    assert first.new
    own = first.new[0].drink.cost.made
    lines = {line.ingredient.key: f"{line.amount:.6f} ml" for line in own.lines}
    known = f'technique = "{own.technique}"\n' + spec("Known", **lines)
    again = chosen(bar_in(tmp_path, FULL, TEA, known), **asked)
    new = [{line.ingredient.key for line in offer.drink.cost.made.lines} for offer in again.new]
    assert set(lines) not in new


def test_the_same_question_has_the_same_menu_to_the_drink(tmp_path: Path) -> None:
    shelf = FULL.replace("orgeat,1 l,9,2 bottles", f"orgeat,1 l,9,600 ml,,{on(1)}")
    shelf = shelf.replace("gin,700 ml,20,9 bottles", "gin,700 ml,20,1 bottle")
    bar = bar_in(tmp_path, shelf, SOUR, RUM, LONG, NUTTY, TEA)
    asked: dict[str, Any] = {"until": on(3), "share": "10..60%", "forecast": 80}
    first, second = chosen(bar, **asked), chosen(bar, **asked)
    assert first.plan.proven
    assert [(o.drink.spec.name, o.nights) for o in first.offers] == [
        (o.drink.spec.name, o.nights) for o in second.offers
    ]
    assert first.plan.orders == second.plan.orders


def test_what_is_lost_is_what_is_bought_and_what_spoils_unless_waste_comes_first(
    tmp_path: Path,
) -> None:
    """A bottle of 18 that saves orgeat worth 9: nobody buys it but who throws nothing away."""
    shelf = FULL.replace("orgeat,1 l,9,2 bottles", f"orgeat,1 l,9,1 l,,{on(0)}")
    shelf = shelf.replace("white-rum,700 ml,18,9 bottles", "white-rum,700 ml,18,100 ml")
    bar = bar_in(tmp_path, shelf, SOUR, LONG, TEA, NUTTY)
    asked: dict[str, Any] = {"share": "10..60%", "sober": "60%"}
    loses = chosen(bar, **asked)
    saves = chosen(bar, waste_first=True, **asked)
    assert not loses.plan.orders
    assert [order.ingredient.key for order in saves.plan.orders] == ["white-rum"]
    assert "Nutty" in names(saves) - names(loses)
    assert "loses the least, what is bought and what spoils together" in _line(loses, bar)
    assert "lets the least spoil, then buys for the least" in _line(saves, bar)


def _line(found: Menu, bar: Bar) -> str:
    return " ".join(menu_text(found, bar).split())


def test_where_nothing_has_a_price_a_menu_is_not_chosen_by_what_pouring_costs(
    tmp_path: Path,
) -> None:
    """By an assumed price of all that is poured, short drinks would be most of it."""
    unpriced = "\n".join(
        ",".join("" if at == 2 else cell for at, cell in enumerate(row.split(",")))
        for row in FULL.splitlines()
    )
    bar = bar_in(tmp_path, unpriced + "\n", SOUR, RUM, LONG, NUTTY)
    found = chosen(bar, share="10..60%")
    assert NightAim.POURING not in found.plan.aims
    assert "to pour" not in _line(found, bar)
    (tmp_path / "priced").mkdir()
    priced = bar_in(tmp_path / "priced", FULL, SOUR, LONG)
    assert NightAim.POURING in chosen(priced, share="1..99%").plan.aims


def test_what_was_asked_for_and_is_not_ready_yet_is_owned_up_to(tmp_path: Path) -> None:
    shelf = f"{FULL}plain,813 ml,,813 ml,{on(0)}\n"
    bar = bar_in(tmp_path, shelf, SOUR, LONG, RUM, TEA, NUTTY, house=SYRUP)
    early = chosen(bar, nights=(on(0),), of=("the syrup",), new=True, seconds=15.0)
    assert [(each.ingredient.key, each.ready) for each in early.unshown] == [("plain", on(1))]
    said = menu_text(early, bar)
    assert f"pours the syrup, as asked: it has to stand until Tue {on(1)}" in said
    assert not chosen(bar, nights=(on(0),), of=("gin",)).unshown


def test_what_is_made_by_no_recipe_and_has_no_price_is_owned_up_to(tmp_path: Path) -> None:
    shelf = FULL.replace("simple-syrup,1 l,1,9 bottles\n", "simple-syrup,1 l,,0\n")
    bar = bar_in(tmp_path, shelf, SOUR, LONG, RUM, NUTTY)
    found = chosen(bar, nights=(on(0),))
    assert "simple-syrup" in [item.key for item in found.plan.unpriced]
    assert '"simple-syrup"' in menu_json(found, bar).partition("counted_without_price")[2]
    assert "To make by no recipe, so nothing for it is in the order: " in menu_text(found, bar)


def test_nearly_is_said_of_the_first_aim_that_is_not_proven(tmp_path: Path) -> None:
    bar = bar_in(tmp_path, FULL, SOUR, LONG, RUM, TEA, NUTTY)
    found = chosen(bar, nights=(on(0),))
    open_ = {  # how many stages are proven, and what is then said
        2: ("this one loses the least", "then nearly has the most sorts"),
        0: ("this one nearly loses the least", "no such menu comes below"),
    }
    for known, said in open_.items():
        stages = tuple(
            stage if at < known else replace(stage, value=stage.bound + stage.within + 9)
            for at, stage in enumerate(found.plan.stages)
        )
        cut = replace(found, plan=replace(found.plan, stages=stages, proven=False))
        text = " ".join(menu_text(cut, bar).split())
        assert all(part in text for part in said), text
        assert ("no such menu comes below" in text) == (known == 0)
