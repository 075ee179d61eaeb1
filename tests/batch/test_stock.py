"""A batch onto the shelf: what it took comes off, both files or neither, and it can be poured."""

from __future__ import annotations

import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from solver.drinks.assess import assess, find_drink
from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import find_spec
from solver.tasks.batch import Batch, Size, batch_of
from solver.tasks.batch.put_into_stock import batch_stocking
from solver.tasks.stock.made_batch import Produced
from tests.files.faults import Fault, faulty

DEMO = Path(__file__).parents[2] / "demo"
DAY = date(2026, 5, 8)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "demo")
    return tmp_path / "demo"


def made(bar: Bar, name: str = "weighbridge", serves: int = 8) -> Batch:
    return batch_of(find_spec(name, bar.specs), bar, Size(serves=serves), made=DAY)


def stock(batch: Batch, bar: Bar) -> Produced:
    ready = batch_stocking(batch, bar)
    with ready.movement.prepared(bar) as put:
        put()
    return ready


def content(folder: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_it_took_comes_off_and_the_rest_stays(folder: Path) -> None:
    bar = load_bar(folder)
    batch = made(bar)
    stock(batch, bar)
    after = load_bar(folder)
    took = {m.line.ingredient.key: m.units for m in batch.lines} | {"water": batch.water.ml}
    for row in bar.shelf.rows if bar.shelf else ():
        key = row.ingredient.key
        now = after.stocked(key)
        assert now is not None
        if key in took:
            assert now.on_hand == pytest.approx((row.on_hand or 0.0) - took[key], abs=0.051)
        else:
            assert now.on_hand == row.on_hand
        assert (now.price, now.bottle, now.note) == (row.price, row.bottle, row.note)


def test_the_batch_is_an_ingredient_with_its_figures_dates_cost_and_allergens(
    folder: Path,
) -> None:
    bar = load_bar(folder)
    batch = made(bar)
    stock(batch, bar)
    after = load_bar(folder)
    row = after.stocked("weighbridge-batch")
    assert row is not None
    assert row.on_hand == pytest.approx(batch.volume_ml, abs=0.5)
    assert (row.opened, row.use_by) == (DAY, batch.kept.use_by)
    assert row.price == pytest.approx(batch.cost, abs=0.02)
    told = after.told_of(row.ingredient)
    assert told.allergens == batch.told.allergens
    not_known = batch.told.allergens_not_known
    assert told.allergens_not_known == (row.ingredient.name, *not_known)
    assert {"sweet-vermouth", "aged-rum"} <= told.holds


def test_a_serve_of_it_is_the_drink(folder: Path) -> None:
    bar = load_bar(folder)
    batch = made(bar)
    stock(batch, bar)
    after = load_bar(folder)
    poured = find_drink((f"{batch.serve_ml:.4f} ml weighbridge-batch",), (), after)
    serve, drink = assess(poured, after, technique="none"), batch.found
    for name, within in (("abv", 0.05), ("sugar", 0.02), ("acid", 0.005), ("volume", 0.2)):
        assert serve.values[name] == pytest.approx(drink.values[name], abs=within)
    assert serve.values["cost"] == pytest.approx(drink.values["cost"], abs=0.01)


def test_a_sour_is_itself_with_its_juice_and_shaken(folder: Path) -> None:
    bar = load_bar(folder)
    batch = made(bar, "harbour-light", 10)
    stock(batch, bar)
    after = load_bar(folder)
    pours = (f"{batch.serve_ml:.4f} ml harbour-light-batch", "3/4 oz lemon-juice")
    serve = assess(find_drink(pours, (), after), after, technique="shake")
    for name, within in (("abv", 0.1), ("sugar", 0.05), ("acid", 0.01), ("volume", 0.5)):
        assert serve.values[name] == pytest.approx(batch.found.values[name], abs=within)


def test_not_enough_is_said_of_everything_that_lacks_and_nothing_is_written(folder: Path) -> None:
    bar = load_bar(folder)
    before = content(folder)
    with pytest.raises(BadInputs) as refused:
        batch_stocking(made(bar, serves=40), bar)
    said = str(refused.value)
    assert "there is not enough aged (amber) rum on the shelf" in said
    assert "2400 mL are needed, 770 are there. It is enough for 12 serves." in said
    assert "sweet (rosso) vermouth" in said
    assert content(folder) == before


def test_what_is_past_its_day_goes_into_no_batch(folder: Path) -> None:
    bar = load_bar(folder, date(2026, 9, 1))
    spec = find_spec("weighbridge", bar.specs)
    late = batch_of(spec, bar, Size(serves=2), made=bar.today)
    with pytest.raises(BadInput, match=r"sweet \(rosso\) vermouth is past its day"):
        batch_stocking(late, bar)


def test_what_the_shelf_does_not_list_is_not_taken_from_it(folder: Path) -> None:
    lines = (folder / "shelf.csv").read_text(encoding="utf-8").splitlines()
    kept = [line for line in lines if not line.startswith("amaro,")]
    (folder / "shelf.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    bar = load_bar(folder)
    with pytest.raises(BadInput, match=r"amaro, medium.* is not on the shelf"):
        batch_stocking(made(bar), bar)


def test_the_next_batch_stands_beside_the_last_and_the_file_keeps_what_somebody_wrote(
    folder: Path,
) -> None:
    bar = load_bar(folder, date(2026, 5, 7))
    early = replace(made(bar, serves=4), made=date(2026, 5, 7))
    stock(early, bar)
    house = folder / "house" / "weighbridge-batch.toml"
    text = house.read_text(encoding="utf-8")
    house.write_text(f"# mine\n{text}note = 'third shelf'\n", encoding="utf-8")
    again = load_bar(folder)
    ready = stock(made(again, serves=3), again)
    assert [lot.on_hand for lot in ready.older] == [pytest.approx(541, abs=1)]
    written = house.read_text(encoding="utf-8")
    assert written.startswith("# mine\n")
    assert "third shelf" in written
    row = load_bar(folder).stocked("weighbridge-batch")
    assert row is not None
    assert [lot.opened for lot in row.lots] == [date(2026, 5, 7), DAY]
    assert row.on_hand == pytest.approx(early.volume_ml * 7 / 4, abs=2)


def test_a_name_that_is_another_things_is_not_taken(folder: Path) -> None:
    taken = folder / "house" / "weighbridge-batch.toml"
    taken.write_text(
        (folder / "house" / "sharp-rhubarb-juice.toml")
        .read_text(encoding="utf-8")
        .replace("[sharp-rhubarb-juice]", "[weighbridge-batch]")
        .replace('"rhubarb juice, acid-adjusted"', '"another"')
        .replace('"sharp rhubarb"', '"other"'),
        encoding="utf-8",
    )
    bar = load_bar(folder)
    with pytest.raises(BadInput, match="taken by something that is no batch"):
        batch_stocking(made(bar), bar)


def test_a_batch_of_another_drink_is_not_written_over(folder: Path) -> None:
    bar = load_bar(folder)
    stock(made(bar, serves=4), bar)
    again = load_bar(folder)
    spec = find_spec("weighbridge", again.specs)
    other = spec.model_copy(update={"name": "Wéighbridge"})
    batch = batch_of(other, again, Size(serves=2), made=DAY)
    assert batch.key == "weighbridge-batch"
    with pytest.raises(BadInput, match="taken by something that is no batch of it"):
        batch_stocking(batch, again)


def test_a_batch_out_of_a_batch_keeps_no_longer(folder: Path) -> None:
    bar = load_bar(folder)
    stock(made(bar, serves=4), bar)
    later = load_bar(folder, date(2026, 5, 12))
    row = later.stocked("weighbridge-batch")
    assert row is not None
    pours = find_drink(("3 oz weighbridge-batch", "1/2 oz gin"), (), later)
    batch = batch_of(pours, later, Size(serves=2), made=later.today, technique="none")
    assert batch.kept.use_by == row.use_by


def test_pours_without_a_name_are_not_put_on_the_shelf(folder: Path) -> None:
    bar = load_bar(folder)
    spec = find_drink(("2 oz gin", "1/2 oz dry-vermouth"), (), bar)
    batch = batch_of(spec, bar, Size(serves=4), made=DAY, technique="stir")
    with pytest.raises(BadInput, match="needs the name of its drink"):
        batch_stocking(batch, bar)


@pytest.mark.parametrize("at", range(0, 40, 3))
def test_a_disk_that_refuses_leaves_both_files_as_they_were_or_writes_both(
    folder: Path, at: int
) -> None:
    bar = load_bar(folder)
    batch = made(bar)
    before = content(folder)
    try:
        with faulty(Fault.FULL, at):
            stock(batch, bar)
    except BadInput:
        assert content(folder) == before
        return
    after = load_bar(folder)
    assert after.stocked("weighbridge-batch") is not None
    rum = after.stocked("aged-rum")
    assert rum is not None
    assert rum.on_hand == pytest.approx(770 - 480)
