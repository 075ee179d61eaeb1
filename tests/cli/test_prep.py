"""`equipour prep` as people and programs meet it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.show.pages.chart import MARK
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)], obj=OPEN)


def test_a_house_ingredient_says_what_it_is_how_well_that_is_known_and_how_long_it_keeps() -> None:
    result = run("prep", "rhubarb syrup", "--why")
    assert result.exit_code == 0, result.output
    for said in (
        "± 8 g",
        "Brix",
        "went off as steam",
        "stayed behind",
        "Plan to use it by 2026-05",
        "Delle units",
        "no promise that it is safe",
        "common practice",
        "leaves are poison",
    ):
        assert said in " ".join(result.output.split())


def test_the_document_holds_every_figure_with_its_deviation() -> None:
    document = json.loads(run("prep", "almond-spice-syrup", "--json", "--make", "1 L").output)
    assert document["task"] == "prep"
    assert document["allergens"] == ["nuts"]
    sugar = document["figures"]["sugar_g_100ml"]
    assert sugar["value"] == pytest.approx(66, abs=1)
    assert 0 < sugar["sd"] < 2
    assert document["make"]["volume_ml"] == pytest.approx(1000, abs=3)
    assert document["cost"]["batch"] > 0
    assert document["life"]["use_by"] == "2026-05-12"


def test_the_demo_s_recipes_make_what_its_files_state() -> None:
    stated = {"rhubarb-syrup": (60, 0.9), "almond-spice-syrup": (66, 0)}
    for key, (sugar, acid) in stated.items():
        figures = json.loads(run("prep", key, "--json").output)["figures"]
        assert figures["sugar_g_100ml"]["value"] == pytest.approx(sugar, abs=0.3)
        assert figures["acid_g_100ml"]["value"] == pytest.approx(acid, abs=0.15)


def test_stocking_writes_the_shelf_and_says_what_stands_beside_it(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    result = run("prep", "rhubarb-syrup", "--stock", "--made", "2026-05-08", bar=folder)
    assert result.exit_code == 0, result.output
    assert "3200 mL made 2026-05-04" in result.output
    row = next(
        line
        for line in (folder / "shelf.csv").read_text(encoding="utf-8").splitlines()
        if line.startswith("rhubarb-syrup,")
    )
    assert "made 2026-05-08 use by 2026-05-20" in row
    design = run("design", "bollard-sour", "--goal", "cheapest", bar=folder)
    assert design.exit_code == 0, design.output


def test_an_unknown_recipe_is_answered_with_those_that_there_are() -> None:
    result = run("prep", "rubarb-syrup")
    assert result.exit_code == 2
    assert "Did you mean rhubarb-syrup" in result.output


def test_an_amount_that_is_none_is_refused() -> None:
    result = run("prep", "rhubarb-syrup", "--make", "a lot")
    assert result.exit_code == 2
    assert "does not begin with a number" in result.output


def test_the_drinks_that_pour_it_are_named_with_what_changes() -> None:
    short = " ".join(run("prep", "rhubarb-syrup").output.split())
    assert "Poured in Dry Dock and Harbour Light: nobody would notice" in short
    said = " ".join(run("prep", "rhubarb-syrup", "--why").output.split())
    assert "Harbour Light: strength" in said
    drinks = json.loads(run("prep", "almond-spice-syrup", "--json").output)["drinks"]
    assert {drink["file"] for drink in drinks} == {"last-ferry", "rope-store"}


def test_one_strength_for_several_drinks_with_its_curve(tmp_path: Path) -> None:
    picture = tmp_path / "curve.svg"
    result = run(
        "prep", "almond-spice-syrup", "--serve", "old-fashioned,hot-coffee",
        "--brix", "48..50 Brix", "--picture", str(picture),
    )  # fmt: skip
    assert result.exit_code == 0, result.output
    said = " ".join(result.stdout.split())
    assert "Best is" in said
    assert "Nothing is claimed between these strengths" in said
    assert "Every drink on the grid is proven closest" in said
    assert picture.read_text(encoding="utf-8").startswith(MARK)


def test_the_document_of_a_strength_holds_the_grid_and_every_drink() -> None:
    arguments = ("--serve", "hot-coffee", "--brix", "50 Brix", "--json")
    document = json.loads(run("prep", "almond-spice-syrup", *arguments).output)
    assert document["task"] == "prep-serve"
    assert document["best"]["brix"] == 50
    assert document["best"]["pours"]["hot-coffee"]
    assert document["proven"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--serve", "sour", "--stock"), "goes with neither"),
        (("--serve", "sour", "--aim", "60 Brix"), "two questions"),
        (("--picture", "curve.svg"), "goes with --serve"),
        (("--serve", "sour", "--picture", "shelf.csv"), "a picture is an SVG file"),
        (("--serve", "soor"), "Did you mean sour"),
    ],
)
def test_options_that_do_not_go_together_are_refused(arguments: tuple[str, ...], said: str) -> None:
    result = run("prep", "rhubarb-syrup", *arguments)
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())


def test_stock_that_nobody_measured_is_called_so(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    shutil.copytree(DEMO, folder)
    path = folder / "house" / "almond-spice-syrup.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.partition("[almond-spice-syrup.recipe.measured]")[0], encoding="utf-8")
    line = ("prep", "almond-spice-syrup", "--make", "0.5x", "--stock", "--made", "2026-05-08")
    said = run(*line, bar=folder).output
    assert "Expected, nothing measured: " in said
    assert "Nothing was measured: weigh what comes out" in said


@pytest.mark.parametrize(
    ("asked", "volume_ml"),
    [("1 qt", 946), ("20 serves", 20 * 22.5), ("2x", 2 * 3309), ("x2", 2 * 3309), ("2 L", 2000)],
)
def test_an_amount_is_said_in_serves_and_in_batches_too(asked: str, volume_ml: float) -> None:
    """A serve is the most that a spec pours: 3/4 oz of 30 ml."""
    found = json.loads(run("prep", "rhubarb-syrup", "--make", asked, "--json").output)
    assert found["make"]["volume_ml"] == pytest.approx(volume_ml, abs=4)


def test_an_aimed_batch_is_made_in_serves_too() -> None:
    said = ("prep", "rhubarb-syrup", "--aim", "60 Brix", "--make", "20 serves", "--json")
    assert json.loads(run(*said).output)["volume_ml"] == pytest.approx(450, abs=4)


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--stored", "4 C"), "--stored goes with --aim or --fortify-to-keep"),
        (("--step", "5 g"), "--step goes with --aim or --fortify-to-keep"),
        (("--acids", "2:1"), "--acids goes with --aim or --fortify-to-keep"),
        (("--spirit", "gin"), "--spirit goes with --aim or --fortify-to-keep"),
        (("--brix", "40..50 Brix"), "--brix goes with --serve"),
        (("--acid", "0..2 g/100ml"), "--acid goes with --serve"),
        (("--time-limit", "5"), "--time-limit goes with --serve"),
        (("--serve", "sour", "--make", "1 L"), "leave out --make"),
        (("--aim", "60 Brix", "--acids", "2:1"), "--acids goes with --aim"),
        (("--aim", "60 Brix", "--spirit", "gin"), "--spirit goes with --aim"),
        (("--aim", "acid 2 g/100ml", "--stored", "4 C"), "--stored goes with an aim in Brix"),
    ],
)
def test_an_option_without_effect_is_refused(options: tuple[str, ...], said: str) -> None:
    result = run("prep", "rhubarb-syrup", *options)
    assert result.exit_code == 2
    assert said in " ".join(result.output.split())
