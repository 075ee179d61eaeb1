"""What drinks cost, what to ask for them, and what makes one cheaper."""

from __future__ import annotations

import csv
import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.clock import Clock
from solver.drinks.assess import find_drink
from solver.errors import BadInput
from solver.pantry.cost_settings import parse_share, pour_cost_of
from solver.pantry.load_bar import load_bar
from solver.search.milp.cpsat import CpSat
from solver.tasks.price.cheaper import cheaper
from solver.tasks.price.drink_cost import cost_of
from solver.tasks.price.list_price import lowest_price, most_to_cost, sold_at
from solver.tasks.price.unit_prices import UnitPrices
from solver.tasks.respec.swap import swap

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "bar")
    return tmp_path / "bar"


def run(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["price", *line, "--bar", str(root)])


def document(root: Path, *line: str) -> dict:  # type: ignore[type-arg]
    result = run(root, *line, "--json")
    assert result.exit_code in (0, 1), result.stderr
    found = json.loads(result.stdout)
    assert isinstance(found, dict)
    return found


SHARES = st.floats(0.05, 1)


@given(
    st.floats(0, 500), SHARES, st.sampled_from([0, 0.07, 0.19, 0.2, 0.25]),
    st.sampled_from([0.01, 0.05, 0.1, 0.5, 1.0, 5.0]),
)  # fmt: skip
def test_a_rounded_price_keeps_the_margin_and_no_lower_step_does(
    cost: float, pour_cost: float, tax: float, step: float
) -> None:
    asking = lowest_price(cost, pour_cost, tax, step)
    assert asking.price >= 0
    assert asking.cost <= pour_cost * asking.net * (1 + 1e-12)
    assert asking.price / step == pytest.approx(round(asking.price / step), abs=1e-6)
    lower = sold_at(asking.price - step, cost, tax)
    assert cost > pour_cost * lower.net * (1 - 1e-12) or cost == 0


@given(st.floats(0.5, 100), st.floats(0.05, 0.95))
def test_margin_and_markup_are_one_thing_said_twice(cost: float, margin: float) -> None:
    # the textbook identity: markup = margin / (1 - margin), of the net price
    asking = sold_at(cost / (1 - margin), cost, 0.0)
    assert asking.margin == pytest.approx(margin)
    assert (asking.net - cost) / cost == pytest.approx(margin / (1 - margin))


def test_a_drink_at_a_fifth_of_its_price_is_asked_five_times() -> None:
    # price = cost / pour-cost share, then tax, then the step: common practice, no source
    assert lowest_price(2.0, 0.2, 0.0, 0.5).price == 10
    assert lowest_price(2.0, 0.2, 0.19, 0.5).price == 12  # 11.90
    assert most_to_cost(11.90, 0.2, 0.19) == pytest.approx(2)


@pytest.mark.parametrize("text", ["", "78", "%", "-5%", "120%", "x%", "78% 9"])
def test_what_is_no_share_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_share(text)


def test_a_share_with_three_decimals_is_one_in_every_country_and_shown_whole(root: Path) -> None:
    assert parse_share("8,875 %") == parse_share("8.875%") == pytest.approx(0.08875)
    assert "8.875 %" in run(root, "harbour-light", "--tax", "8,875 %").output


def test_a_name_is_told_whole_where_it_has_room_and_without_brackets_where_not() -> None:
    from solver.show.text.price import _fitting

    name = "aged grape brandy (cognac class)"
    assert _fitting("2 1/4 oz ", name).endswith("(cognac class)")
    assert _fitting("2 1/4 oz and a dash ", name) == "2 1/4 oz and a dash aged grape brandy"
    assert len(_fitting("2 oz ", "x" * 90)) < 44


def test_margin_and_pour_cost_are_two_words_for_one_target() -> None:
    assert pour_cost_of("78%", None) == pytest.approx(pour_cost_of(None, "22%") or 0)
    with pytest.raises(BadInput):
        pour_cost_of("78%", "22%")
    with pytest.raises(BadInput):
        pour_cost_of("100%", None)


def test_a_cost_is_the_sum_of_its_lines(root: Path) -> None:
    bar = root / "bar.toml"
    costing = (
        '\n[costing]\ntax = "19%"\nmargin = "78%"\nice_price_per_kg = 0.4\nlabour_per_hour = 18.0\n'
        '[costing.hands_on]\nrhubarb-syrup = "40 min"\n'
    )
    bar.write_text(bar.read_text(encoding="utf-8") + costing, encoding="utf-8")
    found = document(root, "harbour-light")
    (drink,) = found["drinks"]
    lines = [line["cost"] for line in (*drink["pours"], *drink["garnish"])]
    added = [drink[name] for name in ("spilled", "left_in_bottle", "ice", "work")]
    assert all(amount > 0 for amount in added)
    assert drink["cost"] == pytest.approx(sum(lines) + sum(added))
    assert drink["ice"] == pytest.approx(0.3 * 0.4)
    rye = drink["pours"][0]["cost"]
    assert rye == pytest.approx(60 / 700 * 36.20)
    assert drink["margin_pct"] >= 78


def test_wages_without_a_working_time_are_said_of_what_the_house_makes(root: Path) -> None:
    bar = root / "bar.toml"
    costing = "\n[costing]\nlabour_per_hour = 18.0\n"
    bar.write_text(bar.read_text(encoding="utf-8") + costing, encoding="utf-8")
    text = run(root, "harbour-light").stdout
    assert "work on rhubarb-syrup" in text
    assert '[costing.hands_on] rhubarb-syrup = "15 min"' in text
    (drink,) = document(root, "harbour-light")["drinks"]
    assert drink["no_working_time"] == ["rhubarb-syrup"]


def test_what_counts_nothing_is_said(root: Path) -> None:
    text = run(root, "rope-store").stdout
    assert "Counted as nothing: tax, ice, work and whole-oranges." in text


def test_a_price_that_is_missing_is_named_with_where_to_write_it(root: Path) -> None:
    shelf = root / "shelf.csv"
    text = shelf.read_text(encoding="utf-8").replace("gin,700 ml,21.50", "gin,700 ml,")
    shelf.write_text(text, encoding="utf-8")
    result = run(root, "2 oz gin", "1 oz tonic water")
    assert "There is no price of gin. Write its price into shelf.csv, per bottle." in result.stdout
    assert document(root, "2 oz gin")["drinks"][0]["cost"] is None


def test_juice_is_costed_by_the_fruit(root: Path) -> None:
    shelf = root / "shelf.csv"
    text = shelf.read_text(encoding="utf-8").replace(
        "lime-juice,1000 ml,9.60", "lime-juice,1000 ml,"
    )
    shelf.write_text(f"{text}whole-limes,1 piece,0.35,60 pieces,,,\n", encoding="utf-8")
    (line,) = document(root, "30 ml lime-juice")["drinks"][0]["pours"]
    assert line["priced_by"] == "fruit"
    assert line["cost"] == pytest.approx(30 / (28 * 0.87) * 0.35)
    assert "1.23 whole limes" in run(root, "30 ml lime-juice").stdout


def test_a_syrup_without_a_price_costs_what_goes_into_it(root: Path) -> None:
    shelf = root / "shelf.csv"
    text = shelf.read_text(encoding="utf-8").replace(
        "rhubarb-syrup,1000 ml,3.40", "rhubarb-syrup,1000 ml,"
    )
    shelf.write_text(text, encoding="utf-8")
    (line,) = document(root, "30 ml rhubarb-syrup")["drinks"][0]["pours"]
    assert line["priced_by"] == "recipe"
    assert 0 < line["cost"] < 0.5


def test_the_smallest_change_brings_it_under_and_the_change_is_what_it_costs(root: Path) -> None:
    found = document(root, "harbour-light", "--under", "3.00")["cheaper"]
    assert found["possible"]
    assert found["cost"] <= 3.00
    assert {c["ingredient"] for c in found["changes"]} == {"rye-whiskey", "bourbon"}


def test_garnish_and_ice_are_part_of_what_it_may_cost(root: Path) -> None:
    bar = root / "bar.toml"
    dear = bar.read_text(encoding="utf-8") + "\n[costing]\nice_price_per_kg = 2.0\n"
    bar.write_text(dear, encoding="utf-8")
    (drink,) = document(root, "harbour-light")["drinks"]
    most = drink["cost"] - drink["ice"] / 2
    found = document(root, "harbour-light", "--under", f"{most:.4f}")["cheaper"]
    assert found["possible"]
    assert found["cost"] <= most


def test_where_no_change_keeps_the_drink_the_cheapest_there_is_is_said(root: Path) -> None:
    result = run(root, "2 oz gin", "1 oz lime juice", "1/2 oz rich syrup", "--under", "1.20")
    assert result.exit_code == 1
    assert (
        "No change keeps the drink and costs 1.20 or less, within the same kinds of bottles or "
        "with one of another. The cheapest of the same kinds is 2.06"
    ) in " ".join(result.stdout.split())


def test_a_bottle_of_another_kind_is_a_way_where_those_of_the_same_are_none(root: Path) -> None:
    line = (root, "2 oz cognac", "3/4 oz lemon juice", "1/2 oz rich syrup", "--under", "2.40")
    said = " ".join(run(*line).stdout.split())
    assert "No change within the same kinds of bottles costs 2.40 or less." in said
    assert "instead of 2 oz aged grape brandy (cognac class). It costs" in said
    assert "Taste is not compared." in said
    found = document(*line)["cheaper"]
    assert found["possible"]
    assert found["other_kind"]
    assert found["cost"] <= 2.40
    new = {each["ingredient"] for each in found["changes"] if each["from"] is None}
    assert len(new) == 1


def test_no_bottle_that_keeps_the_drink_costs_less_where_none_is_said_to() -> None:
    bar = load_bar(DEMO)
    prices = UnitPrices(bar)
    lines = ("2 oz cognac", "3/4 oz lemon juice", "1/2 oz rich syrup")
    cost = cost_of(find_drink(lines, (), bar), bar, prices)
    costs = []
    for line in cost.made.lines:
        for each in swap(cost.spec, bar, line.ingredient.key, None, CpSat()).found:
            if each.result.held and each.result.after is not None:
                total = cost_of(each.result.after.spec, bar, prices).total
                costs += [] if total is None else [total]
    assert costs
    for most in (1.2, 1.9, 2.4, 3.3):
        found = cheaper(cost, most, bar, prices, CpSat(), Clock.of(60))
        if found.found is None:
            assert min(costs) > most
        else:
            assert found.cost is not None
            assert (found.cost.total or 0.0) <= most + 1e-9


def test_a_tax_that_nobody_said_is_no_tax_of_nought(root: Path) -> None:
    text = run(root, "--all").stdout
    assert " 0.00 " not in text
    assert "Counted as nothing: tax" in text
    assert (
        "of which tax                                        -  not known"
        in run(root, "dry-dock").stdout
    )
    rows = list(csv.DictReader(run(root, "--all", "--csv").stdout.splitlines()))
    assert {row["tax"] for row in rows} == {""}
    stated = run(root, "--all", "--tax", "0%").stdout
    assert " 0.00 " in stated
    assert "Counted as nothing: tax" not in stated


def test_a_drink_that_is_cheap_enough_needs_no_change(root: Path) -> None:
    cost = document(root, "dry-dock", "--under", "3")["drinks"][0]["cost"]
    assert document(root, "dry-dock", "--under", "3")["cheaper"] is None
    said = f"It costs {cost:.2f} as it is, no more than 99.00: nothing has to change."
    assert said in run(root, "dry-dock", "--under", "99").stdout


@pytest.mark.parametrize(
    "named",
    [("harbour-light", "dry-dock"), ("2 oz gin", "Dry Dock"), ("Harbour Light", "1 oz gin")],
)
def test_a_spec_is_named_alone(root: Path, named: tuple[str, ...]) -> None:
    result = run(root, *named)
    assert result.exit_code == 2
    assert "is a spec, and more is said beside it. Name one spec alone" in result.stderr


def test_the_list_is_the_drinks_one_by_one(root: Path) -> None:
    whole = document(root, "--all", "--margin", "75%")["drinks"]
    assert len(whole) == 7
    for drink in whole:
        assert drink["cost"] == document(root, drink["spec"])["drinks"][0]["cost"]
        assert drink["margin_pct"] >= 75
    table = run(root, "--all", "--csv").stdout
    assert len(table.splitlines()) == 8


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('name = "', "name = "),
        ("rye-whiskey", "rye-whiskers"),
        ('glass = "coupe"', 'glass = "coupe"\ntechnique = "unmixed"'),
    ],
)
def test_a_broken_spec_is_set_aside_from_the_list(root: Path, old: str, new: str) -> None:
    path = root / "specs" / "harbour-light.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    result = run(root, "--all", "--csv")
    assert result.exit_code == 0, result.stderr
    assert "harbour-light.toml is left aside" in result.stderr
    assert len(result.stdout.splitlines()) == 7
    assert "Harbour Light" not in result.stdout


def test_a_list_of_broken_specs_is_no_empty_list(root: Path) -> None:
    for path in (root / "specs").glob("*.toml"):
        path.write_text("name = \n", encoding="utf-8")
    result = run(root, "--all")
    assert result.exit_code == 2
    assert "harbour-light.toml, line 1" in result.stderr


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("tax = 19", "costing.tax must be text in quotes"),
        ('tax = "19"', "'19' is not a share"),
        ('margin = "80%"\npour_cost = "20%"', "the same thing twice"),
        ("price_step = 0.0", "price_step"),
        ('taxes = "19%"', "not a key known here"),
    ],
)
def test_a_slip_in_the_table_is_said_with_its_line(root: Path, line: str, said: str) -> None:
    bar = root / "bar.toml"
    bar.write_text(f"{bar.read_text(encoding='utf-8')}\n[costing]\n{line}\n", encoding="utf-8")
    result = run(root, "dry-dock")
    assert result.exit_code == 2
    assert said in result.stderr
    assert "bar.toml, line" in result.stderr


@given(cost=st.floats(0.2, 30), tax=st.floats(0, 0.4), step=st.sampled_from([0.25, 0.5, 1.0]))
def test_tax_on_top_leaves_the_price_on_the_list_as_it_is_without_tax(
    cost: float, tax: float, step: float
) -> None:
    plain, on_top = lowest_price(cost, 0.2, 0.0, step), lowest_price(cost, 0.2, 0.0, step, tax)
    assert (on_top.price, on_top.net, on_top.margin) == (plain.price, plain.net, plain.margin)
    assert on_top.paid == pytest.approx(plain.price * (1 + tax))
    assert on_top.tax == pytest.approx(on_top.paid - on_top.net, abs=1e-9)


@pytest.mark.parametrize(
    ("country", "key", "says"),
    [
        ("United States", "", "plus 8 % tax"),
        ("Canada", "", "plus 8 % tax"),
        ("Germany", "", "of which tax, 8 %"),
        ("United States", "tax_on_top = false", "of which tax, 8 %"),
        ("Germany", "tax_on_top = true", "plus 8 % tax"),
    ],
)
def test_tax_is_on_top_where_lists_are_before_tax_or_the_bar_says_so(
    tmp_path: Path, country: str, key: str, says: str
) -> None:
    (tmp_path / "bar.toml").write_text(
        f'name = "b"\njurisdiction = "{country}"\n[costing]\n{key}\n', encoding="utf-8"
    )
    (tmp_path / "shelf.csv").write_text(
        "ingredient,bottle,price\ngin,750 ml,30\nlime-juice,1 l,8\n", encoding="utf-8"
    )
    asks = ["price", "2 oz gin", "3/4 oz lime-juice", "--tax", "8%", "--bar", str(tmp_path)]
    result = CliRunner().invoke(main, asks)
    assert says in result.output
    found = json.loads(CliRunner().invoke(main, [*asks, "--json"]).output)
    (drink,) = found["drinks"]
    assert found["tax_on_top"] == ("plus" in says)
    paid = drink["price"] * 1.08 if found["tax_on_top"] else drink["price"]
    assert drink["paid"] == pytest.approx(paid)
    assert drink["tax"] == pytest.approx(paid - paid / 1.08)
