"""Asked from a terminal as a bar asks it: twenty serves, bottled, at 4 °C, no citrus inside."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = Path(__file__).parents[2] / "demo"


@pytest.fixture
def bar(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    shutil.copytree(DEMO, tmp_path / "demo")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "demo"


def run(bar: Path, *words: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), "batch", *words])


def document(bar: Path, *words: str) -> dict[str, Any]:
    result = run(bar, *words, "--json")
    assert result.exit_code == 0, result.output
    found: dict[str, Any] = json.loads(result.stdout)
    assert (found["format"], found["task"]) == (1, "batch")
    return found


def test_twenty_serves_of_a_sour_at_four_degrees(bar: Path) -> None:
    found = document(bar, "harbour-light", "--serves", "20", "--at", "4 C")
    # including water: none, since it is shaken with ice when the juice is added
    assert found["water"]["ml"] == 0
    assert found["ice_melt_each_serve_ml"] > 50
    # no citrus in the bottle, and what to add to order
    assert "lemon-juice" not in {pour["ingredient"] for pour in found["pours"]}
    (left,) = found["left_out"]
    assert (left["ingredient"], left["each_serve_ml"]) == ("lemon-juice", 22.5)
    assert left["why"] == "citrus"
    # the threshold: 78 Delle units stop yeast (Amerine and Kunkee 1965); spirit alone has 200
    assert found["delle_units"] > 78
    assert found["life"]["days"] > 0
    assert found["life"]["source"] == "common practice, no source"
    assert found["cold"]["ice_g"] == 0


def test_temperatures_are_told_in_the_degrees_of_the_country(bar: Path) -> None:
    asks = ("weighbridge", "--serves", "20", "--at", "15F")
    assert "At -9.4 °C it stays liquid" in run(bar, *asks).output
    text = (bar / "bar.toml").read_text(encoding="utf-8")
    (bar / "bar.toml").write_text(text.replace('"Germany"', '"USA"'), encoding="utf-8")
    said = " ".join(run(bar, *asks).output.split())
    assert "At 15 °F (-9.4 °C) it stays liquid" in said
    assert re.search(r"begins to form in it at about \d+ °F \(-\d+\.\d °C, ± 1\.5\)", said)
    assert "at 68 °F (20 °C)" in said
    label = " ".join(run(bar, "weighbridge", "--serves", "20", "--label").output.split())
    assert "Keep closed, at 41 °F (5 °C) or below." in label
    hot = run(bar, "weighbridge", "--serves", "20", "--at", "200F")
    assert "200 °F (93.3 °C) is no temperature" in hot.stderr


def test_a_small_batch_is_told_in_ounces_too(bar: Path) -> None:
    assert re.search(r"\d+ mL \(\d+(\.\d)? oz\)", run(bar, "weighbridge", "--serves", "4").output)


def test_twenty_serves_of_a_strong_drink_at_four_degrees(bar: Path) -> None:
    found = document(bar, "weighbridge", "--serves", "20", "--at", "4 C")
    # twenty times what a single drink takes of melt: 95 g became 131 g on this bar's scales
    assert found["water"]["ml"] == pytest.approx(723, abs=1)
    assert found["left_out"] == []
    assert found["bottle"]["abv_pct"] == pytest.approx(found["glass"]["abv_pct"])
    assert found["each_serve_ml"] == pytest.approx(found["glass"]["volume_ml"])
    assert found["delle_units"] > 78
    assert found["life"]["use_by"] == "2026-05-22"


def test_it_says_so_in_words(bar: Path) -> None:
    said = " ".join(run(bar, "harbour-light", "--serves", "20", "--at", "4C").output.split())
    for words in (
        "20 serves in the bottle",
        "rye whiskey (40 oz; 1 bottle and 500 mL)",
        "No water: each serve is shaken with ice",
        "3/4 oz lemon juice, fresh: fresh citrus fades within hours",
        "450 mL for all",
        "Plan to use it by",
        "164 Delle units, above the 78 that stop yeast",
        "no promise that it is safe",
        "Local codes and licensed practice come first.",
    ):
        assert words in said


def test_from_a_warm_freezer_it_says_where_ice_begins_and_how_much(bar: Path) -> None:
    stays = run(bar, "rope-store", "--serves", "20", "--at", "-12C").output
    assert "At -12 °C it stays liquid" in stays
    freezes = run(bar, "weighbridge", "--serves", "20", "--at", "-18 °C").output
    assert re.search(r"At -18 °C some \d+ % of it is ice", freezes)
    assert "leave a tenth of every bottle empty" in freezes


def test_a_bar_of_millilitres_hears_nothing_of_ounces(bar: Path) -> None:
    settings = bar / "bar.toml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text.replace('show = "oz"', 'show = "ml"'), encoding="utf-8")
    said = run(bar, "harbour-light", "--keg", "5 gal").output
    assert not re.search(r"\b(oz|qt|gal)\b", said)
    assert "22.5 mL  lemon juice" in said


def test_a_bar_of_ounces_hears_of_quarts_and_gallons_too(bar: Path) -> None:
    assert "(4.75 gal)" in run(bar, "weighbridge", "--keg", "5 gal").output
    assert re.search(r"2\.71 L \(2\.86 qt\)", run(bar, "weighbridge", "--serves", "20").output)


def test_a_scale_weighs_everything(bar: Path) -> None:
    found = document(bar, "weighbridge", "--serves", "20", "--step", "1 g")
    assert all(pour["g"] == round(pour["g"]) for pour in found["pours"])


def test_an_empty_folder_is_no_hindrance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    pours = ("2 oz rye-whiskey", "1 oz sweet-vermouth", "2 dashes aromatic-bitters")
    result = CliRunner().invoke(main, ["batch", *pours, "--technique", "stir", "--make", "2 L"])
    assert result.exit_code == 0, result.output
    assert "Cost not known" in result.output
    assert "in practice" in result.output  # the melt of nobody's own weighing, with its range


def test_a_sheet_has_a_label_for_every_bottle(bar: Path) -> None:
    words = ("weighbridge", "--serves", "20", "--bottle", "750 ml", "--label")
    said = run(bar, *words).output
    assert "Made 2026-05-08. Use by 2026-05-22." in said
    assert run(bar, *words, "-o", "labels.html").exit_code == 0
    sheet = Path("labels.html").read_text(encoding="utf-8")
    assert sheet.count("<section") == 4
    assert "://" not in sheet
    again = run(bar, *words, "-o", "labels.html")
    assert again.exit_code == 2
    assert "add --replace" in again.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "nothing says how much to make"),
        (("--serves", "20", "--make", "2 L"), "--serves and --make say it twice"),
        (("--bottles", "3"), "--bottles needs their size"),
        (("--make", "0 ml"), "is no size of a batch"),
        (("--make", "17%"), "is not a volume"),
        (("--serves", "4", "--at", "-40 C"), "no temperature of a fridge or freezer"),
        (("--serves", "4", "--step", "1 piece"), "no step of a jug or a scale"),
        (("--serves", "4", "-o", "a.html"), "--output goes with --label"),
        (("--serves", "4", "--label", "--json"), "--label is printed alone"),
        (("--serves", "0"), "0"),
        (("--serves", "4", "--water", "95%"), "no drink any more"),
        (("--serves", "4", "--water", "22%", "--on-ice", "again"), "--water or --on-ice"),
    ],
)
def test_a_slip_gets_one_sentence(bar: Path, words: tuple[str, ...], said: str) -> None:
    result = run(bar, "weighbridge", *words)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert said in result.stderr
