"""A batch is poured as it was mixed, whatever its spec says now."""

from __future__ import annotations

import json
import re
import shutil
from datetime import timedelta
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.tasks.stock.movement import shelf_of
from solver.tasks.stock.sales import sold
from tests.stock.bars import sales

BAR = 'name = "Lee Shore"\ncurrency = "EUR"\ntoday = 2026-11-26\n'
SHELF = """ingredient,bottle,price,on_hand
rye-whiskey,700 ml,30,6 bottles
maraschino-liqueur,700 ml,24,3 bottles
dry-vermouth,750 ml,9,3 bottles
"""
DRINK = """name = "Weigh House"
technique = "stir"
pours = [
  {{ ingredient = "rye-whiskey", amount = "{rye} ml" }},
  {{ ingredient = "maraschino-liqueur", amount = "15 ml" }},
  {{ ingredient = "dry-vermouth", amount = "15 ml" }},
]
"""


def ask(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line])


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text(BAR, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    (tmp_path / "specs").mkdir()
    with_rye(tmp_path, 50)
    said = ask(tmp_path, "batch", "weigh-house", "--serves", "12", "--stock")
    assert said.exit_code == 0, said.stderr
    return tmp_path


def with_rye(bar: Path, rye: float) -> None:
    (bar / "specs" / "weigh-house.toml").write_text(DRINK.format(rye=rye), "utf-8")


def test_a_changed_spec_leaves_the_serves_of_a_batch_as_they_are(bar: Path) -> None:
    (before,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert not before.older
    with_rye(bar, 60)
    (after,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert after.older
    assert after.each_ml == pytest.approx(before.each_ml)
    (all_of_it,) = sold(sales({"Weigh House": 12}), load_bar(bar)).batches
    assert all_of_it.number == 12


def test_a_batch_for_another_technique_is_by_an_older_recipe(bar: Path) -> None:
    rewritten(bar / "specs" / "weigh-house.toml", '"stir"', '"build"')
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert batch.older


def test_whoever_pours_it_is_told(bar: Path) -> None:
    (bar / "s.csv").write_text("Drink,Sold\nWeigh House,5\n", "utf-8")
    plan = ("plan", "--on", "2026-11-28", "--drinks", "14", "weigh-house=100%")
    assert "older recipe" not in ask(bar, *plan).stdout
    with_rye(bar, 60)
    said = ask(bar, *plan)
    assert "14 Weigh House (12 from the batch)" in said.stdout
    assert "Weigh House batch was mixed by an older recipe" in said.stdout
    planned = json.loads(ask(bar, *plan, "--json").stdout)
    assert planned["older_batches"] == ["weigh-house-batch"]
    took = ask(bar, "stock", "sold", str(bar / "s.csv"))
    assert "mixed by an older recipe." in took.stdout


def test_what_is_missing_of_a_batch_is_mixed_as_the_spec_says_now(bar: Path) -> None:
    with_rye(bar, 60)
    poured = sold(sales({"Weigh House": 14}), load_bar(bar)).poured
    assert poured["rye-whiskey"] == pytest.approx(2 * 60)


NUTTY = """name = "Weigh House"
technique = "stir"
pours = [
  { ingredient = "rye-whiskey", amount = "60 ml" },
  { ingredient = "amaretto", amount = "15 ml" },
  { ingredient = "dry-vermouth", amount = "15 ml" },
]
"""


@pytest.fixture
def nutty(bar: Path) -> Path:
    """A bar with a batch with almonds, whose spec has none any more."""
    shelf = (bar / "shelf.csv").read_text("utf-8")
    (bar / "shelf.csv").write_text(shelf + "amaretto,700 ml,20,2 bottles\n", "utf-8")
    assert ask(bar, "stock", "count", "weigh-house-batch", "0").exit_code == 0
    (bar / "specs" / "weigh-house.toml").write_text(NUTTY, "utf-8")
    said = ask(bar, "batch", "weigh-house", "--serves", "12", "--stock", "--again")
    assert said.exit_code == 0, said.stderr
    with_rye(bar, 60)
    return bar


def test_a_batch_that_contains_what_its_spec_does_not_is_not_poured_in_a_plan(nutty: Path) -> None:
    plan = ("plan", "--on", "2026-11-28", "--drinks", "4", "weigh-house=100%")
    said = ask(nutty, *plan).stdout
    assert "from the batch" not in said
    assert "Weigh House batch contains amaretto" in said
    fields = json.loads(ask(nutty, *plan, "--json").stdout)
    assert fields["batches_set_aside"] == ["weigh-house-batch"]
    assert fields["nights"][0]["drinks"][0]["from_batch"] == 0


def test_papers_say_that_it_is_not_poured(nutty: Path) -> None:
    plan = ("plan", "--on", "2026-11-28", "--drinks", "4", "weigh-house=100%", "-o")
    for name, words in (("p.html", ()), ("p.xlsx", ()), ("de.html", ("--language", "de"))):
        said = ask(nutty, *plan, str(nutty / name), *words)
        assert said.exit_code == 0, said.stderr
    english = "which Weigh House does not any more: not poured"
    assert english in (nutty / "p.html").read_text("utf-8")
    sheet = openpyxl.load_workbook(nutty / "p.xlsx")["Pour"]
    assert any(english in str(cell.value) for row in sheet for cell in row)
    assert "nicht ausschenken" in (nutty / "de.html").read_text("utf-8")
    listed = ask(nutty, "menu", "--forecast", "1", "--share", "100%", "--book", "--json")
    assert listed.exit_code == 0, listed.output
    menu = json.loads(listed.stdout)
    assert menu["batches_set_aside"] == ["weigh-house-batch"]


def test_a_capital_makes_no_other_drink_of_it(bar: Path) -> None:
    rewritten(bar / "specs" / "weigh-house.toml", "Weigh House", "Weigh house")
    (batch,) = sold(sales({"Weigh house": 5}), load_bar(bar)).batches
    assert batch.number == 5
    assert more(bar, "--again").exit_code == 0


def test_a_batch_whose_spec_has_another_name_is_told_of(bar: Path) -> None:
    rewritten(bar / "specs" / "weigh-house.toml", "Weigh House", "Weigh Shed")
    plan = ("plan", "--on", "2026-11-28", "--drinks", "1", "Weigh Shed=100%")
    said = ask(bar, *plan).stdout
    assert "Weigh House batch: not poured, as no spec is called so." in said
    fields = json.loads(ask(bar, *plan, "--json").stdout)
    assert fields["batches_of_no_spec"] == ["weigh-house-batch"]
    assert "weigh-house-batch" in [each["ingredient"] for each in fields["dated_after"]]


def test_what_is_set_aside_spoils_on_its_last_day(nutty: Path) -> None:
    last = shelf_of(load_bar(nutty)).row("weigh-house-batch")
    assert last is not None
    assert last.use_by is not None
    night = str(last.use_by + timedelta(days=1))
    line = ("plan", "--on", night, "--drinks", "1", "weigh-house=100%", "--json")
    (over,) = json.loads(ask(nutty, *line).stdout)["spoils"]
    assert (over["ingredient"], over["last_day"]) == ("weigh-house-batch", str(last.use_by))
    assert over["worth"] > 0


def test_nor_is_it_in_what_was_sold(nutty: Path) -> None:
    (nutty / "s.csv").write_text("Drink,Sold\nWeigh House,5\n", "utf-8")
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(nutty)).batches
    assert batch.number == 0
    poured = sold(sales({"Weigh House": 5}), load_bar(nutty)).poured
    assert poured["rye-whiskey"] == pytest.approx(300)
    assert "weigh-house-batch" not in poured
    said = ask(nutty, "stock", "sold", str(nutty / "s.csv")).stdout
    assert "Weigh House batch contains amaretto" in said
    assert "taken from bottles" in said


def test_no_batch_by_another_recipe_comes_beside_it(nutty: Path) -> None:
    said = ask(nutty, "batch", "weigh-house", "--serves", "2", "--stock", "--again")
    assert said.exit_code == 2
    assert "weigh-house-batch by another recipe is on the shelf" in said.stderr
    assert ask(nutty, "stock", "count", "weigh-house-batch", "0").exit_code == 0
    assert ask(nutty, "batch", "weigh-house", "--serves", "2", "--stock", "--again").exit_code == 0


OTHERWISE = "weigh-house-batch by another recipe is on the shelf"


def more(bar: Path, *options: str) -> Result:
    return ask(bar, "batch", "weigh-house", "--serves", "2", "--stock", *options)


def rewritten(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert re.search(old, text)
    path.write_text(re.sub(old, new, text), "utf-8")


def test_nor_one_of_an_earlier_day(nutty: Path) -> None:
    assert OTHERWISE in more(nutty, "--made", "2026-11-25").stderr


def test_nor_beside_one_that_nobody_has_counted(nutty: Path) -> None:
    rewritten(nutty / "shelf.csv", r"(?m)^(weigh-house-batch,.*?),[^,]*? ml,", r"\1,,")
    row = shelf_of(load_bar(nutty)).row("weigh-house-batch")
    assert row is not None
    assert row.on_hand is None
    assert OTHERWISE in more(nutty, "--again").stderr


def test_nor_beside_one_whose_serve_nobody_knows(nutty: Path) -> None:
    rewritten(nutty / "house" / "weigh-house-batch.toml", r"(?m)^(holds|serve_ml) = .*\n", "")
    white = DRINK.format(rye=60).replace("rye-whiskey", "gin").replace("maraschino-", "orange-")
    (nutty / "specs" / "weigh-house.toml").write_text(
        white.replace("dry-vermouth", "sweet-vermouth"), "utf-8"
    )
    assert "contains" in ask(nutty, "plan", "--on", "2026-11-28", "--drinks", "4").stdout
    assert OTHERWISE in more(nutty, "--again").stderr


def test_a_count_is_not_undone_that_brings_back_what_the_label_does_not_tell(nutty: Path) -> None:
    assert ask(nutty, "stock", "count", "weigh-house-batch", "0").exit_code == 0  # entry 4
    assert more(nutty, "--again").exit_code == 0
    said = ask(nutty, "stock", "undo", "4")
    assert said.exit_code == 2
    assert "it brings back another weigh-house-batch" in said.stderr
    assert ask(nutty, "stock", "undo", "5").exit_code == 0
    assert ask(nutty, "stock", "undo", "4").exit_code == 0
    assert "nuts" in (nutty / "house" / "weigh-house-batch.toml").read_text("utf-8")


def test_only_the_same_recipe_comes_beside_what_stands_there(bar: Path) -> None:
    assert more(bar, "--again").exit_code == 0
    with_rye(bar, 60)
    assert OTHERWISE in more(bar, "--again").stderr


def test_a_batch_stronger_than_its_spec_is_not_poured(bar: Path) -> None:
    with_rye(bar, 20)
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert batch.number == 0
    plan = ("plan", "--on", "2026-11-28", "--drinks", "4", "weigh-house=100%")
    assert "Weigh House batch is stronger than Weigh House is now" in ask(bar, *plan).stdout


def test_a_batch_of_a_syrup_that_had_nuts_is_not_poured(bar: Path) -> None:
    house = bar / "house" / "weigh-house-batch.toml"
    house.write_text(
        house.read_text("utf-8").replace("allergens = [", 'allergens = ["nuts", '), "utf-8"
    )
    (batch,) = sold(sales({"Weigh House": 5}), load_bar(bar)).batches
    assert batch.number == 0
    assert batch.another is not None
    assert "nuts" in batch.another.gone


def test_a_batch_is_as_strong_as_when_it_was_mixed(bar: Path) -> None:
    strong = bar.parent / "strong"
    shutil.copytree(bar, strong)
    shelf = SHELF.replace("on_hand\n", "on_hand,overrides\n").replace(
        "rye-whiskey,700 ml,30,6 bottles", "rye-whiskey,700 ml,30,6 bottles,abv=60%"
    )
    (strong / "shelf.csv").write_text(shelf, "utf-8")
    (strong / "house" / "weigh-house-batch.toml").unlink()
    said = ask(strong, "batch", "weigh-house", "--serves", "12", "--stock")
    assert said.exit_code == 0, said.stderr
    (mixed,) = sold(sales({"Weigh House": 12}), load_bar(strong)).batches
    rewritten(strong / "shelf.csv", "abv=60%", "")
    (batch,) = sold(sales({"Weigh House": 12}), load_bar(strong)).batches
    assert batch.number == 0
    assert batch.each_ml == pytest.approx(mixed.each_ml, abs=0.02)
    rewritten(bar / "shelf.csv", "(?m)^(ingredient.*)$", r"\1,overrides")
    rewritten(bar / "shelf.csv", "(?m)^(rye-whiskey.*)$", r"\1,abv=60%")
    (weaker,) = sold(sales({"Weigh House": 12}), load_bar(bar)).batches
    assert weaker.number == 12
    assert weaker.older


SYRUP = """[yard-syrup]
name = "yard syrup"
kind = "syrup/spice"
abv = { pct = 0, basis = "estimate", source = "invented" }
sugar = { g_100ml = 60, basis = "estimate", source = "invented" }
acid = { g_100ml = 0, basis = "estimate", source = "invented" }
animal = []
"""


def test_what_was_not_known_when_it_was_mixed_stays_not_known(bar: Path) -> None:
    house = bar / "house" / "yard-syrup.toml"
    house.write_text(SYRUP, "utf-8")
    with (bar / "shelf.csv").open("a", encoding="utf-8") as shelf:
        shelf.write("yard-syrup,1 l,5,1 l\n")
    spec = bar / "specs" / "yard.toml"
    spec.write_text(
        DRINK.format(rye=50).replace("maraschino-liqueur", "yard-syrup").replace("Weigh ", "Yard "),
        "utf-8",
    )
    done = ask(bar, "batch", "Yard House", "--serves", "8", "--stock")
    assert done.exit_code == 0, done.stderr
    made = load_bar(bar)
    assert made.told_of(made.bottles.find("yard-house-batch")).allergens_not_known
    (batch,) = sold(sales({"Yard House": 5}), made).batches
    assert batch.number == 5
    house.write_text(f"{SYRUP}allergens = []\n", "utf-8")
    (batch,) = sold(sales({"Yard House": 5}), load_bar(bar)).batches
    assert batch.number == 0
    assert batch.another is not None
    assert batch.another.gone == ("something whose allergens nobody knew",)


STEPS = 'steps = ["Stir in hot milk, let it curdle, bottle the clear part."]\n'


def test_what_steps_put_in_before_bottling_is_in_the_batch(bar: Path) -> None:
    spec = bar / "specs" / "weigh-house.toml"
    spec.write_text(DRINK.format(rye=50).replace("Weigh ", "Milk ") + STEPS, "utf-8")
    said = ask(bar, "batch", "Milk House", "--serves", "4", "--stock")
    assert "milk" in said.stdout, said.stderr
    made = load_bar(bar)
    told = made.told_of(made.bottles.find("milk-house-batch"))
    assert "milk" in told.allergens
    assert "milk" in told.animal
    (batch,) = sold(sales({"Milk House": 4}), made).batches
    assert batch.number == 4
    rewritten(spec, "(?m)^steps.*\n", "")
    (batch,) = sold(sales({"Milk House": 4}), load_bar(bar)).batches
    assert batch.number == 0


@pytest.mark.parametrize(
    ("said", "tells"),
    [
        ('notes = "Rye is fat-washed with brown butter."', "may_contain"),
        ('steps = ["Infuse with xyzzy."]', "unknown"),
    ],
)
def test_what_words_leave_open_is_open_of_the_batch_too(bar: Path, said: str, tells: str) -> None:
    spec = bar / "specs" / "weigh-house.toml"
    spec.write_text(DRINK.format(rye=50).replace("Weigh ", "Open ") + said + "\n", "utf-8")
    done = ask(bar, "batch", "Open House", "--serves", "4", "--stock")
    assert done.exit_code == 0, done.stderr
    made = load_bar(bar)
    told = made.told_of(made.bottles.find("open-house-batch"))
    assert getattr(told, tells)
    (batch,) = sold(sales({"Open House": 4}), made).batches
    assert batch.number == 4


ON_TOP = """name = "Floated"
technique = "stir"
pours = [
  { ingredient = "rye-whiskey", amount = "50 ml" },
  { ingredient = "dry-vermouth", amount = "20 ml" },
  { ingredient = "rye-whiskey", amount = "10 ml", stage = "top" },
]
"""


def test_a_bottle_that_goes_in_and_on_top_is_taken_for_both(bar: Path) -> None:
    (bar / "specs" / "weigh-house.toml").write_text(ON_TOP, "utf-8")
    assert ask(bar, "batch", "floated", "--serves", "8", "--stock").exit_code == 0
    found = sold(sales({"Floated": 5}), load_bar(bar))
    (batch,) = found.batches
    assert not batch.older
    assert batch.number == 5
    assert found.poured["rye-whiskey"] == pytest.approx(50)
