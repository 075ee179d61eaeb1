"""`tradeoff` as its user runs it."""

from __future__ import annotations

import itertools
import json
import re
import shutil
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.show.pages.chart import MARK
from solver.tasks.tradeoff_axes import OFF_AIM
from tests.open_bars import OPEN

DEMO = str(Path(__file__).parents[2] / "demo")
SVG = "{http://www.w3.org/2000/svg}"


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["tradeoff", *arguments, "--bar", DEMO], obj=OPEN)


def document(*arguments: str) -> dict[str, Any]:
    result = run(*arguments, "--json")
    assert result.exit_code in {0, 1, 3}, result.output
    found: dict[str, Any] = json.loads(result.stdout, parse_constant=pytest.fail)
    return found


@cache
def whole() -> dict[str, Any]:
    """The whole curve of a bar that stays as it is, found once."""
    return document("bollard-sour")


def test_every_drink_of_a_curve_has_its_garnish() -> None:
    drinks = [spot["answer"] for spot in document("julep", "--points", "3")["points"]]
    assert len(drinks) > 1
    assert all(drink["garnish"].startswith("8 mint leaves") for drink in drinks)


def designed(*arguments: str) -> dict[str, Any]:
    result = CliRunner().invoke(main, ["design", *arguments, "--bar", DEMO, "--json"], obj=OPEN)
    found: dict[str, Any] = json.loads(result.output)
    return found


def test_cost_falls_and_distance_grows_along_the_curve_between_the_two_best_drinks() -> None:
    found = whole()
    assert found["complete"]
    points = found["points"]
    for one, other in itertools.pairwise(points):
        assert one["cost"] < other["cost"]
        assert one["off_aim"] > other["off_aim"]
    cheapest = designed("bollard-sour", "--goal", "cheapest")
    assert points[-1]["cost"] == pytest.approx(cheapest["proof"]["objective"])
    assert points[-1]["off_aim"] == pytest.approx(designed("bollard-sour")["proof"]["bound"])
    assert points[0]["cost"] < points[-1]["cost"]


def test_every_point_is_a_whole_drink_that_has_the_values_of_the_point() -> None:
    for point in document("highball", "--points", "9")["points"]:
        assert point["cost"] == pytest.approx(sum(p["cost"] for p in point["answer"]["pours"]))
        assert point["cost"] == point["answer"]["finished"]["cost"]
        assert point["off_aim"] == point["answer"]["off_aim"]
        assert "allergens" in point["answer"]


def test_the_order_of_the_two_only_turns_the_curve() -> None:
    one = document("spritz", "--between", "cost,off-aim")["points"]
    other = document("spritz", "--between", "off-aim,cost")["points"]
    assert [p["answer"]["pours"] for p in one] == [p["answer"]["pours"] for p in reversed(other)]


def keys(answer: dict[str, Any]) -> set[str]:
    return {pour["ingredient"] for pour in answer["pours"]}


def test_a_cheaper_drink_is_less_in_keeping_all_along_to_the_one_that_design_offers() -> None:
    found = document("duo", "--between", "cost,in-keeping")
    assert found["complete"]
    points = found["points"]
    assert len(points) > 3
    for one, other in itertools.pairwise(points):
        assert one["cost"] < other["cost"]
        assert one["published_as_in_keeping_pct"] >= other["published_as_in_keeping_pct"]
        assert one["answer"]["off_aim"] == 0
    assert keys(points[-1]["answer"]) == keys(designed("duo")["answer"])
    cheapest = designed("duo", "--goal", "cheapest")
    assert points[0]["cost"] == pytest.approx(cheapest["proof"]["objective"])
    turned = document("duo", "--between", "in-keeping,cost")["points"]
    assert [p["answer"]["pours"] for p in turned] == [p["answer"]["pours"] for p in points[::-1]]


def test_what_is_more_in_keeping_may_be_off_target() -> None:
    points = document("sour", "--abv", "21%", "--between", "in-keeping,off-aim")["points"]
    assert len(points) > 1
    for one, other in itertools.pairwise(points):
        assert one["published_as_in_keeping_pct"] <= other["published_as_in_keeping_pct"]
        assert one["off_aim"] > other["off_aim"]
    said = run("sour", "--abv", "21%", "--between", "in-keeping,off-aim").output
    assert "As in keeping: how many published drinks in a hundred are" in said


def test_the_drink_that_design_offers_is_marked_where_it_is_on_the_curve() -> None:
    asked = ("duo", "--goal", "cheapest")
    found = document(*asked)
    [marked] = [point for point in found["points"] if point["chosen"]]
    offered = designed(*asked)["answer"]
    assert marked["answer"]["pours"] == found["chosen"]["pours"] == offered["pours"]
    assert " * 1 1/4 oz vodka" in run(*asked).output


def test_the_drink_that_design_offers_is_told_where_it_is_beside_the_curve() -> None:
    said = " ".join(run("highball", "--cost", "<=2").output.split())
    assert "What design offers (cost 1.82 EUR, off aim 0.00): 1 1/4 oz bourbon" in said
    assert "has no more of either, and takes 1 more ingredient." in said


def test_limits_are_kept_all_along_the_curve() -> None:
    found = document("sour", "--points", "6", "--abv", "17..18%", "--without", "gin")
    for point in found["points"]:
        assert 17 * (1 - 1e-9) <= point["answer"]["finished"]["abv_pct"] <= 18 * (1 + 1e-9)
        assert "gin" not in {pour["ingredient"] for pour in point["answer"]["pours"]}


def test_fewer_points_than_there_are_is_owned_up_to() -> None:
    found = document("bollard-sour", "--points", "7")
    assert len(found["points"]) == 7
    assert not found["complete"]
    assert found["unsearched"]
    every = {point["cost"] for point in whole()["points"]}
    assert {point["cost"] for point in found["points"]} < every
    assert "There may be more between these" in run("bollard-sour", "--points", "7").output


def test_what_nobody_would_tell_apart_is_counted_and_not_listed() -> None:
    said = run("bollard-sour").output
    listed = re.findall(r"^ +\d+\.\d\d +\d+\.\d\d [ *] ", said, flags=re.MULTILINE)
    [more] = re.findall(r"(\d+) more differ from these", said)
    assert len(listed) > 10
    assert len(listed) + int(more) == len(whole()["points"])


def test_a_time_limit_leaves_part_of_the_curve_and_says_so() -> None:
    result = run("stirred", "--between", "abv,off-aim", "--points", "900", "--time-limit", "0.5")
    assert result.exit_code == 3, result.output
    assert "Stopped before" in result.output


def test_what_cannot_be_has_no_curve_and_no_picture(tmp_path: Path) -> None:
    place = tmp_path / "curve.svg"
    result = run("sour", "--abv", "21..22%", "--volume", ">=195 ml", "--picture", str(place))
    assert result.exit_code == 1
    assert "nothing was drawn" in result.stderr
    assert not place.exists()
    assert document("sour", "--abv", ">=40%")["status"] == "impossible"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--between", "cost"), "two names"),
        (("--between", "cost,off-aim,abv"), "two names"),
        (("--between", "cost,of-aim"), f"Did you mean {OFF_AIM}"),
        (("--between", "abv,abv"), "abv and itself"),
        (("--points", "1"), "2<=x<=1000"),
        (("--picture", "curve.png"), "a picture is an SVG file"),
        (("--picture", "nowhere/curve.svg"), "no such folder"),
        (("--replace",), "--replace goes with --picture"),
    ],
)
def test_bad_input_gets_one_sentence_and_exit_code_2(arguments: tuple[str, ...], said: str) -> None:
    result = run("sour", *arguments)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_a_price_that_is_missing_is_named(tmp_path: Path) -> None:
    bar = tmp_path / "demo"
    shutil.copytree(DEMO, bar)
    shelf = (bar / "shelf.csv").read_text(encoding="utf-8")
    priced = "soda-water,200 ml,0.55,"
    assert priced in shelf
    without = shelf.replace(priced, "soda-water,200 ml,,")
    (bar / "shelf.csv").write_text(without, encoding="utf-8")
    asked = ["tradeoff", "highball", "--bar", str(bar)]
    result = CliRunner().invoke(main, asked)
    assert result.exit_code == 2
    assert "no price for soda-water" in result.stderr
    assert CliRunner().invoke(main, [*asked, "--between", "bottles,off-aim"]).exit_code == 0


@pytest.fixture(scope="module")
def picture(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("pictures") / "curve.svg"
    result = run("bollard-sour", "--cost", "<=2.50", "--points", "12", "--picture", str(place))
    assert result.exit_code == 0, result.output
    assert "drawn in" in result.stderr
    return place


def test_the_picture_has_one_marker_for_each_drink_with_its_spec(picture: Path) -> None:
    root = ET.fromstring(picture.read_bytes())  # noqa: S314
    markers = [each.findtext(f"{SVG}title", "") for each in root if each.tag != f"{SVG}title"]
    markers = [says for says in markers if says]
    points = document("bollard-sour", "--cost", "<=2.50", "--points", "12")["points"]
    on_the_curve = any(point["chosen"] for point in points)
    assert len(markers) == len(points) + (not on_the_curve)
    for point in points:
        assert any(f"cost {point['cost']:.2f} EUR" in says for says in markers)


def test_the_picture_says_what_its_areas_limits_and_axes_are(picture: Path) -> None:
    root = ET.fromstring(picture.read_bytes())  # noqa: S314
    words = [each.text for each in root.iter(f"{SVG}text")]
    for says in (
        "cost, EUR", "off aim, noticeable differences", "possible", "no drink of this shelf",
        "cost at most 2.50 EUR (as asked)", "design offers", "not searched",
    ):  # fmt: skip
        assert says in words
    assert root.get("font-family") == "sans-serif"


def test_a_picture_of_ours_is_drawn_anew_and_nothing_else_is_lost(picture: Path) -> None:
    place = picture.with_name("again.svg")
    drawn = picture.read_text(encoding="utf-8")
    assert drawn.startswith(MARK)
    place.write_text(drawn, encoding="utf-8")
    asked = ("spritz", "--picture", str(place))
    assert run(*asked).exit_code == 0
    assert "spritz" in place.read_text(encoding="utf-8")
    place.write_text("<svg>mine</svg>", encoding="utf-8")
    refused = run(*asked)
    assert refused.exit_code == 2
    assert "equipour did not draw" in refused.stderr
    assert place.read_text(encoding="utf-8") == "<svg>mine</svg>"
    assert run(*asked, "--replace").exit_code == 0
    assert place.read_text(encoding="utf-8").startswith(MARK)


def test_every_price_that_is_missing_is_named_with_what_it_is_for(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    items = [
        "gin",
        "vodka",
        "white-rum",
        "aged-rum",
        "tequila-blanco",
        "bourbon",
        "lemon-juice",
        "simple-syrup",
    ]
    (tmp_path / "shelf.csv").write_text("\n".join(["ingredient", *items]), encoding="utf-8")
    result = CliRunner().invoke(main, ["tradeoff", "sour", "--bar", str(tmp_path)])
    assert result.exit_code == 2
    assert all(item in result.stderr for item in items)
    assert "the cost of each drink is weighed against off-aim" in result.stderr


def test_a_spec_is_weighed_by_what_its_own_lines_can_be_poured_to() -> None:
    found = document("harbour-light", "--points", "40")
    poured = {
        tuple(pour["ingredient"] for pour in spot["answer"]["pours"]) for spot in found["points"]
    }
    assert poured == {("rye-whiskey", "lemon-juice", "rhubarb-syrup", "saline-solution")}
    for one, other in itertools.pairwise(found["points"]):
        assert one["cost"] < other["cost"]
        assert one["off_aim"] > other["off_aim"]
    assert found["points"][-1]["off_aim"] == pytest.approx(0.0)
    said = run("harbour-light", "--points", "4").stdout
    assert "Harbour Light: cost against distance from what it is" in said


def test_a_spec_asked_to_be_weaker_is_weighed_within_that() -> None:
    found = document("weighbridge", "--abv", "<=24%", "--points", "6")
    strengths = [spot["answer"]["finished"]["abv_pct"] for spot in found["points"]]
    assert strengths
    assert max(strengths) <= 24.0 + 1e-9


def test_a_spec_is_not_asked_what_more_in_keeping_it_could_be() -> None:
    result = run("harbour-light", "--between", "cost,in-keeping")
    assert result.exit_code == 2
    assert "equipour tradeoff bollard-sour" in result.stderr


@pytest.fixture
def half_priced(tmp_path: Path) -> Path:
    """A bar of which only some bottles have a price."""
    (tmp_path / "bar.toml").write_text('name = "test"\ncurrency = "EUR"\n', "utf-8")
    (tmp_path / "shelf.csv").write_text(
        "ingredient,bottle,price\ngin,70cl,20\nwhite-rum,70cl,\nlemon-juice,1 l,8\n"
        "lime-juice,1 l,\nsimple-syrup,1 l,2\n",
        "utf-8",
    )
    return tmp_path


def test_what_has_no_price_is_named_and_left_out_where_somebody_says_so(half_priced: Path) -> None:
    def ask(*more: str) -> Result:
        return CliRunner().invoke(main, ["tradeoff", "sour", "--bar", str(half_priced), *more])

    refused = ask()
    assert refused.exit_code == 2
    for said in ("lime-juice, white-rum", "--only-priced", "--between ethanol,off-aim"):
        assert said in refused.stderr
    answered = ask("--only-priced")
    assert answered.exit_code == 0
    assert "left out, as they have no price: lime-juice, white-rum" in answered.stderr
    assert "white rum" not in answered.stdout
    assert ask("--between", "ethanol,off-aim").exit_code == 0


def test_where_nothing_has_a_price_nothing_is_left_to_weigh(half_priced: Path) -> None:
    (half_priced / "shelf.csv").write_text("ingredient,bottle\ngin,70cl\nlemon-juice,1 l\n")
    line = ["design", "sour", "--goal", "cheapest", "--only-priced", "--bar", str(half_priced)]
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 2
    assert "nothing here has a price" in result.stderr
