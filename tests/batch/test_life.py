"""A batch keeps no longer than what is in it, or says what in it would not keep so long."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import Spec, SpecPour
from solver.show.documents.batch import batch_fields
from solver.show.text.batch import batch_text
from solver.tasks.batch import Batch, Size, batch_of
from solver.tasks.prep.shelf_life import TRADE_ABV

DAY = date(2026, 11, 26)
HOUSE = """
[pumpkin-syrup]
name = "pumpkin syrup"
kind = "syrup/fruit"
character = ["vegetal", "warm-spice"]
abv = { pct = 0, basis = "definition", source = "no alcohol" }
sugar = { g_100ml = 60, basis = "estimate", source = "made up" }
acid = { g_100ml = 0.05, basis = "estimate", source = "made up" }
acids = { malic = 1.0 }
allergens = []
animal = []
"""
LIFE = 'life = { days = 12, basis = "estimate", source = "made up" }\n'
RECIPE = '[pumpkin-syrup.recipe.inputs]\npumpkin = "600 g"\nwhite-sugar = "900 g"\nwater = "1 l"\n'


def bar_of(folder: Path, life: str = LIFE) -> Bar:
    (folder / "house").mkdir()
    (folder / "bar.toml").write_text('name = "made up"\ntoday = 2026-11-26\n')
    (folder / "house" / "house.toml").write_text(f"{HOUSE}{life}{RECIPE}")
    (folder / "shelf.csv").write_text(
        "ingredient,bottle,price,on_hand\nrye-whiskey,700 ml,30,9 bottles\n"
        "white-rum,700 ml,30,9 bottles\npumpkin-syrup,1 l,,2 l\nsweet-vermouth,700 ml,9,2 bottles\n"
    )
    return load_bar(folder)


@cache
def stated_bar() -> Bar:
    with TemporaryDirectory() as folder:
        found = bar_of(Path(folder))
        assert found.stocked("pumpkin-syrup")
    return found


@pytest.fixture
def bar() -> Bar:
    return stated_bar()


def mixed(bar: Bar, spirit_ml: float, syrup_ml: float = 20, vermouth_ml: float = 0) -> Batch:
    poured = {"rye-whiskey": spirit_ml, "pumpkin-syrup": syrup_ml, "sweet-vermouth": vermouth_ml}
    pours = tuple(
        SpecPour(ingredient=key, amount=f"{ml:.1f} ml") for key, ml in poured.items() if ml
    )
    spec = Spec(name="Lantern", technique="stir", pours=pours)
    return batch_of(spec, bar, Size(serves=20), made=DAY)


def test_above_twenty_per_cent_what_would_not_keep_so_long_is_named(bar: Bar) -> None:
    found = mixed(bar, 60)
    assert float(found.bottle.abv_pct) > TRADE_ABV
    said = batch_text(found, bar)
    assert (
        "The pumpkin syrup alone would keep to 2026-12-08: that alcohol keeps it longer is common "
        "practice, no source." in said
    )
    assert "Low in acid, with pumpkin" in said
    alone = batch_fields(found, bar)["shortest_lived"]
    assert (alone["ingredient"], alone["use_by"]) == ("pumpkin-syrup", "2026-12-08")


def test_a_syrup_of_which_nobody_stated_the_days_keeps_by_its_figures(tmp_path: Path) -> None:
    found = mixed(bar_of(tmp_path, ""), 60)
    assert found.kept.shortest is not None
    assert found.kept.shortest.item.key == "pumpkin-syrup"
    assert found.kept.shortest.life.days <= 12
    weak = mixed(load_bar(tmp_path), 15, 60)
    assert weak.kept.keeping.life.days <= found.kept.shortest.life.days


@given(st.floats(10, 80), st.floats(5, 60), st.sampled_from([0.0, 30.0]))
def test_no_batch_keeps_longer_than_what_is_in_it_without_saying_so(
    spirit_ml: float, syrup_ml: float, vermouth_ml: float
) -> None:
    found = mixed(stated_bar(), spirit_ml, syrup_ml, vermouth_ml)
    syrup = date(2026, 12, 8)
    if float(found.bottle.abv_pct) < TRADE_ABV:
        assert found.kept.use_by <= syrup
    elif found.kept.use_by > syrup:
        assert found.kept.shortest is not None
        assert found.kept.shortest.life.ends(DAY) <= syrup


def test_what_keeps_by_its_alcohol_has_nothing_beside_it(bar: Bar) -> None:
    pours = tuple(SpecPour(ingredient=key, amount="30 ml") for key in ("rye-whiskey", "white-rum"))
    spec = Spec(name="both", technique="stir", pours=pours)
    found = batch_of(spec, bar, Size(serves=20), made=DAY)
    assert found.kept.shortest is None
    assert "alone would keep" not in batch_text(found, bar)
    assert "Low in acid" not in batch_text(found, bar)


SPOILS = """
[washed-rum]
name = "washed rum"
kind = "spirit/rum"
character = ["cane"]
abv = { pct = 38, basis = "estimate", source = "made up" }
sugar = { g_100ml = 0, basis = "estimate", source = "made up" }
acid = { g_100ml = 0, basis = "estimate", source = "made up" }
life = { days = 9, basis = "estimate", source = "made up" }
"""


@pytest.mark.parametrize(
    ("goes_in", "days"),
    [
        ("whole-milk", 9), ("yogurt", 9), ("almonds", 9), ("sesame-seeds", 9), ("oats", 9),
        ("egg-white", 9), ("cassia", None),
    ],
)  # fmt: skip
def test_what_spoils_dates_a_strong_batch_though_it_is_strained_off(
    goes_in: str, days: int | None, tmp_path: Path
) -> None:
    bar_of(tmp_path)
    made = f'[washed-rum.recipe.inputs]\n{goes_in} = "50 g"\nwhite-rum = "700 ml"\n'
    (tmp_path / "house" / "rum.toml").write_text(f"{SPOILS}{made}")
    pours = tuple(SpecPour(ingredient=key, amount="30 ml") for key in ("rye-whiskey", "washed-rum"))
    spec = Spec(name="washed", technique="stir", pours=pours)
    found = batch_of(spec, load_bar(tmp_path), Size(serves=20), made=DAY).kept
    if days is None:
        assert found.keeping.life.days > 9
        assert found.shortest is not None
        assert found.shortest.item.key == "washed-rum"
    else:
        assert found.keeping.life.days <= days


@pytest.mark.parametrize("steps", ["Stir in hot milk, and filter it.", "Shake in an egg white."])
def test_what_steps_put_in_spoils_in_the_bottle_too(bar: Bar, steps: str) -> None:
    pours = (SpecPour(ingredient="rye-whiskey", amount="60 ml"),)
    plain = Spec(name="Lantern", technique="stir", pours=pours)
    spec = plain.model_copy(update={"steps": (steps,)})
    size = Size(serves=4)
    assert batch_of(plain, bar, size, made=DAY).kept.keeping.life.days > 100
    assert batch_of(spec, bar, size, made=DAY).kept.keeping.life.days <= 7
