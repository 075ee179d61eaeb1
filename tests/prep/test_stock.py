"""A batch put into stock: on the shelf, in its file, in the next drink; nothing else touched."""

from __future__ import annotations

import contextlib
import shutil
from datetime import date
from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.show.text.produced import produced_lines
from solver.tasks.prep import find_recipe, prepare
from solver.tasks.prep.amount_to_make import read_amount
from solver.tasks.prep.prepare import Prep
from solver.tasks.prep.put_into_stock import stocking
from solver.tasks.prep.scale_batch import scaled_recipe
from solver.tasks.stock.counting import counted
from solver.tasks.stock.made_batch import Produced
from tests.files.faults import Fault, faulty
from tests.prep.bars import TODAY, bar_with, cook, recipe

DEMO = Path(__file__).parents[2] / "demo"
NOW = date(2026, 5, 8)
"""Today in the demonstration."""
EQUAL = 'white-sugar = "1 kg"\nwater = "1 kg"'


def stock(prep: Prep, bar: Bar, *, again: bool = False) -> Produced:
    """Write a batch to the shelf, its figures to its house file, and the log: all or none."""
    ready = stocking(prep, bar, again=again)
    with ready.movement.prepared(bar) as put:
        put()
    return ready


def demo(folder: Path) -> Path:
    """A copy of the demonstration bar whose shelf has a column of its own."""
    copy = folder / "demo"
    shutil.copytree(DEMO, copy)
    lines = (copy / "shelf.csv").read_text(encoding="utf-8").splitlines()
    kept = [f"{line},{'rack' if not n else f'r{n}'}" for n, line in enumerate(lines)]
    text = "\n".join(kept) + "\n"
    enough = text.replace("demerara-sugar,1000 g,2.60,0.9", "demerara-sugar,1000 g,2.60,2")
    sheet = enough.replace("rhubarb,1000 g,2.40,4", "rhubarb,1000 g,2.40,9")
    (copy / "shelf.csv").write_text(sheet, encoding="utf-8")
    return copy


@pytest.mark.parametrize("key", ["rhubarb-syrup", "almond-spice-syrup"])
def test_a_stocked_batch_is_what_the_next_drink_is_designed_with(tmp_path: Path, key: str) -> None:
    folder = demo(tmp_path)
    bar = load_bar(folder)
    before = (folder / "shelf.csv").read_text(encoding="utf-8").splitlines()
    prep = prepare(find_recipe(key, bar), bar, TODAY, NOW)
    done = stock(prep, bar)
    after = load_bar(folder)
    row = after.stocked(key)
    old = bar.stocked(key)
    assert row is not None
    assert old is not None
    assert done.older == (old,)
    first, new = row.lots
    assert first.on_hand == pytest.approx(old.on_hand, abs=0.6)
    assert first.opened == old.opened
    assert new.on_hand == pytest.approx(prep.figures.volume_ml.value, abs=0.5)
    assert (new.opened, new.dated) == (NOW, prep.use_by)
    assert row.price_per_unit == pytest.approx(
        (prep.cost or 0) / prep.figures.volume_ml.value, rel=0.01
    )
    assert row.ingredient.sugar.value == pytest.approx(prep.figures.sugar_g_100ml.value, abs=0.06)
    assert row.ingredient.life_days == prep.keeping.life.days
    for put in prep.puts:
        had, has = bar.stocked(put.key), after.stocked(put.key)
        assert had is not None
        assert has is not None
        assert has.on_hand == pytest.approx((had.on_hand or 0.0) - put.units, abs=0.11)
    lines = (folder / "shelf.csv").read_text(encoding="utf-8").splitlines()
    changed = [n for n, (a, b) in enumerate(zip(before, lines, strict=True)) if a != b]
    assert len(changed) == 2 + len({put.key for put in prep.puts})  # and the names of columns
    assert all(f",r{n}" in lines[n] for n in changed[1:])


def test_another_amount_than_the_last_takes_and_makes_so_much(tmp_path: Path) -> None:
    folder = demo(tmp_path)
    bar = load_bar(folder)
    prep = prepare(find_recipe("rhubarb-syrup", bar), bar, TODAY, NOW)
    half = scaled_recipe(prep, read_amount("0.5x", "rhubarb-syrup", bar))
    with stocking(prep, bar, half).movement.prepared(bar) as put:
        put()
    after = load_bar(folder)
    row, sugar = after.stocked("rhubarb-syrup"), after.stocked("white-sugar")
    assert row is not None
    assert sugar is not None
    assert row.lots[-1].on_hand == pytest.approx(prep.figures.volume_ml.value / 2, rel=0.01)
    assert sugar.on_hand == pytest.approx(6000 - 980, abs=0.11)


def test_the_house_file_keeps_its_comments_and_its_recipe(tmp_path: Path) -> None:
    folder = demo(tmp_path)
    bar = load_bar(folder)
    path = folder / "house" / "rhubarb-syrup.toml"
    old = path.read_text(encoding="utf-8")
    prep = prepare(find_recipe("rhubarb-syrup", bar), bar, TODAY, NOW)
    stock(prep, bar)
    new = path.read_text(encoding="utf-8")
    assert [line for line in new.splitlines() if line.startswith("#")] == [
        line for line in old.splitlines() if line.startswith("#")
    ]
    assert new.partition("[rhubarb-syrup.recipe]")[2] == old.partition("[rhubarb-syrup.recipe]")[2]
    again = load_bar(folder)
    once_more = prepare(find_recipe("rhubarb-syrup", again), again, TODAY, NOW)
    stock(once_more, again, again=True)
    assert path.read_text(encoding="utf-8") == new


def test_a_recipe_bottled_for_the_first_time_gets_its_figures_and_its_row(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, "# ours\n" + recipe(EQUAL))
    prep = prepare(find_recipe("syrup", bar), bar, TODAY)
    assert stock(prep, bar).older == ()
    after = load_bar(tmp_path)
    row = after.stocked("syrup")
    assert row is not None
    assert row.on_hand == pytest.approx(1627, abs=1)
    assert row.ingredient.sugar.value == pytest.approx(61.4, abs=0.1)
    assert (tmp_path / "house" / "house.toml").read_text(encoding="utf-8").startswith("# ours\n")


def test_when_one_file_cannot_be_written_the_other_is_as_it_was(tmp_path: Path) -> None:
    bar = bar_with(tmp_path, recipe(EQUAL))
    prep = prepare(find_recipe("syrup", bar), bar, TODAY)
    files = [tmp_path / "house" / "house.toml", tmp_path / "shelf.csv"]
    old = [path.read_bytes() for path in files]
    for at in range(100):  # until the disk is full too late to be in the way
        with faulty(Fault.FULL, at), contextlib.suppress(BadInput):
            stock(prep, bar)
            break
        assert [path.read_bytes() for path in files] == old
    assert at > 30
    assert not {path.read_bytes() for path in files} & set(old)


def test_a_bar_without_a_shelf_is_told_to_make_one(tmp_path: Path) -> None:
    bar_with(tmp_path, recipe(EQUAL))
    (tmp_path / "shelf.csv").unlink()
    bar = load_bar(tmp_path)
    with pytest.raises(BadInput, match="no shelf"):
        stock(prepare(find_recipe("syrup", bar), bar, TODAY), bar)


@pytest.mark.parametrize("asked", ["1.5 L", "3 kg", "200 ml"])
def test_a_wanted_amount_comes_in_whole_grams_and_makes_that_amount(
    tmp_path: Path, asked: str
) -> None:
    steps = 'do = "simmer"; time = "30 min"\ndo = "strain"; through = "cloth"'
    prep = cook(tmp_path, recipe(f'{EQUAL}\ncassia = "10 g"', steps, 'weight = "1600 g"'))
    batch = scaled_recipe(prep, read_amount(asked, "syrup", bar_with(tmp_path, recipe(EQUAL))))
    got = batch.mass_g if "kg" in asked else batch.volume_ml
    assert got == pytest.approx({"1.5 L": 1500, "3 kg": 3000, "200 ml": 200}[asked], rel=0.01)
    for grams in batch.grams:
        assert grams == round(grams, 1 if grams < 10 else 0)


def test_what_nobody_wrote_down_of_what_stands_there_is_said(tmp_path: Path) -> None:
    folder = demo(tmp_path)
    bar = load_bar(folder)
    prep = prepare(find_recipe("rhubarb-syrup", bar), bar, TODAY, NOW)
    assert "wrote down" not in "\n".join(produced_lines(stocking(prep, bar)))
    path = folder / "house" / "rhubarb-syrup.toml"
    text = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(x for x in text if not x.startswith("was_made_of")), "utf-8")
    bar = load_bar(folder)
    prep = prepare(find_recipe("rhubarb-syrup", bar), bar, TODAY, NOW)
    said = "\n".join(produced_lines(stocking(prep, bar)))
    assert "Nobody wrote down what that was made of" in said


def test_what_stands_there_is_told_as_it_was_cooked(tmp_path: Path) -> None:
    folder = demo(tmp_path)
    bar = load_bar(folder)
    stock(prepare(find_recipe("almond-spice-syrup", bar), bar, TODAY, NOW), bar)
    path = folder / "house" / "almond-spice-syrup.toml"
    text = path.read_text(encoding="utf-8")
    assert 'almonds = "160 g"\ncassia = "9 g"\n' in text
    plain = text.replace('almonds = "160 g"\ncassia = "9 g"\n', "")
    path.write_text(plain.replace('allergens = ["nuts"]', "allergens = []"), encoding="utf-8")
    changed = load_bar(folder)
    told = changed.told_of(changed.bottles.find("almond-spice-syrup"))
    assert "nuts" in told.allergens
    assert "cassia" in told.holds
    prep = prepare(find_recipe("almond-spice-syrup", changed), changed, TODAY, NOW)
    assert not prep.told.allergens
    with pytest.raises(BadInput, match="almond-spice-syrup by another recipe is on the shelf"):
        stocking(prep, changed, again=True)
    with counted("almond-spice-syrup", "0", changed, NOW).prepared(changed) as put:
        put()
    empty = load_bar(folder)
    assert not empty.told_of(empty.bottles.find("almond-spice-syrup")).allergens
    stock(prepare(find_recipe("almond-spice-syrup", empty), empty, TODAY, NOW), empty)
    after = load_bar(folder)
    told = after.told_of(after.bottles.find("almond-spice-syrup"))
    assert not told.allergens
    assert "cassia" not in told.holds
