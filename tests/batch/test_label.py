"""A label says all that the batch does: cautions, possible alcohol, and what is past its day."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.drinks.assess import find_drink
from solver.mixture.freezing import chilled
from solver.pantry.load_bar import load_bar
from solver.show.pages.batch_label import batch_label
from solver.show.pages.label import label_text
from solver.show.text.batch_words import liquid_celsius
from solver.show.words import words_of
from solver.tasks.batch import batch_of, read_size

BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand,opened,use_by
gin,700 ml,20,6 bottles,,
rye-whiskey,700 ml,25,6 bottles,,
sweet-vermouth,750 ml,10,3 bottles,,2026-09-30
aromatic-bitters,200 ml,14,1 bottle,,
tonic-water,200 ml,1,48 bottles,,
cider-vinegar,750 ml,3,1 bottle,,
honey,500 g,5,1 bottle,,
egg-white,1 l,6,1 bottle,,
lemon-juice,1 l,4,1 bottle,,
"""
POURS = {
    "sour": ("50 ml gin", "20 ml honey", "25 ml lemon juice", "25 ml egg white"),
    "highball": ("50 ml gin", "150 ml tonic water"),
    "sober": ("30 ml cider vinegar", "30 ml honey", "100 ml water"),
    "stirred": ("50 ml rye whiskey", "25 ml sweet vermouth", "2 dashes aromatic bitters"),
}


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    return tmp_path


def test_every_caution_of_a_drink_is_on_the_label_of_its_batch(bar: Path) -> None:
    opened = load_bar(bar)
    size = read_size(opened.measures, serves=10)
    told = {}
    for name, pours in POURS.items():
        spec = find_drink(pours, (), opened)
        batch = batch_of(spec, opened, size, made=opened.today, technique="build")
        label = label_text(batch_label(batch, opened, words_of("en")))
        for caution in batch.found.guest.cautions:
            assert (name, f"Caution: {caution}" in label) == (name, True)
        told[name] = label
    assert "Raw egg" in told["sour"]
    assert "quinine" in told["highball"]
    assert "May hold alcohol: cider vinegar" in told["sober"]
    assert "is past its day, 2026-09-30" in told["stirred"]


@pytest.mark.parametrize("celsius", [4.0, -3.0, -12.0, -18.0, -20.0])
@pytest.mark.parametrize("abv", [5.0, 20.0, 35.0])
def test_a_label_never_sends_a_bottle_where_it_freezes(celsius: float, abv: float) -> None:
    opened = load_bar(None)
    gin, water = abv / 41.0, 1.0 - abv / 41.0
    spec = find_drink((f"{100 * gin:.1f} ml vodka", f"{100 * water:.1f} ml water"), (), opened)
    batch = batch_of(
        spec, opened, read_size(opened.measures, serves=10), made=opened.today,
        technique="none", celsius=celsius,
    )  # fmt: skip
    assert batch.cold is not None
    kept = liquid_celsius(batch.cold)
    at = 5.0 if kept is None else kept
    assert at >= celsius
    assert at >= 0 or chilled(batch.composition, at).ice_share == 0


def test_a_label_says_the_temperature_that_the_batch_advises(bar: Path) -> None:
    asked = ("batch", *POURS["stirred"], "--technique", "stir", "--serves", "8", "--at", "-18C")
    said, label = (
        CliRunner().invoke(main, ["--bar", str(bar), *asked, *more]).stdout
        for more in ((), ("--label",))
    )
    advised = said.partition("Better keep it at ")[2].partition(".")[0]
    assert advised
    assert f"Keep at {advised}." in label


def test_a_label_says_what_is_poured_on_the_finished_drink(bar: Path) -> None:
    opened = load_bar(bar)
    pours = ("30 ml gin", "25 ml lemon juice")
    spec = find_drink(pours, ("60 ml tonic water", "20 ml rye whiskey"), opened)
    size = read_size(opened.measures, serves=10)
    batch = batch_of(spec, opened, size, made=opened.today, technique="shake")
    label = label_text(batch_label(batch, opened, words_of("en")))
    shaken, _, after = label.partition("A serve: ")[2].partition("shaken with ice")
    assert "lemon juice" in shaken
    assert "tonic" not in shaken
    assert "rye" not in shaken
    assert "Top with" in after
    assert "rye whiskey" in after
