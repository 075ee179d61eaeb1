"""Lists of bottles as people keep them: what is understood is shown, and nothing is guessed."""

from __future__ import annotations

import datetime
import io
import json
import re
import sys
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver.cli import terminal
from solver.cli.main import main
from solver.errors import BadInput
from solver.files.grid import GridRow, read_grid
from solver.pantry.bar import Bar
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.tasks.shelf_import.cells import (
    price_cell,
    price_taken,
    size_cell,
    size_in,
    stock_cell,
    without_sizes,
)
from solver.tasks.shelf_import.columns import find_head
from solver.tasks.shelf_import.read_list import AskedName, Fate, understand, with_list
from tests.examples import examples

LIBRARY = load_library()


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    folder.mkdir()
    (folder / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    return folder


def run(bar: Path, *arguments: str, typed: str | None = None) -> Result:
    line = ["shelf", "import", *arguments, "--bar", str(bar)]
    return CliRunner().invoke(main, line, input=typed)


def listed(bar: Path, text: str, name: str = "list.csv", encoding: str = "utf-8") -> str:
    path = bar / name
    path.write_bytes(text.encode(encoding))
    return str(path)


GERMAN = (
    "Inventur Mai;;;;;\n;;;;;\n"
    "Artikel;Lieferant;Inhalt;EK-Preis;Bestand;MHD\n"
    "Gin 43 %;Hafen;0,7 l;28,50 €;2;\n"
    "Old Tom Gin 70cl;Hafen;;1.029,80;0,5;\n"
    "prosecco;Hafen;0,75;€ 9,-;6;31.12.2030\n"
    "Kapitäns Bester;Hafen;70cl;31,20;1;\n"
    "soda;Hafen;24 x 200 ml;12,00;;\n"
    "Gesamt;;;1.111,00;;\n"
)


def test_a_list_as_a_bar_keeps_it_comes_onto_the_shelf(bar: Path) -> None:
    result = run(bar, listed(bar, GERMAN, encoding="cp1252"))
    assert result.exit_code == 0, result.output
    for said in (
        "name from 'Artikel', supplier from 'Lieferant', size from 'Inhalt', price from",
        "0.75 taken as l",
        "24 of 200 ml at 0.50 each",
        "--as 'Kapitäns Bester=",
        "4 bottles added, 1 not.",
    ):
        assert said in result.stdout
    rows = {row.ingredient.key: row for row in load_bar(bar).listed}
    assert set(rows) == {"gin", "gin-old-tom", "sparkling-wine", "soda-water"}
    gin, old_tom, wine = rows["gin"], rows["gin-old-tom"], rows["sparkling-wine"]
    assert (gin.bottle, gin.price, gin.on_hand) == (700, 28.5, 1400)
    assert (old_tom.bottle, old_tom.price, old_tom.on_hand) == (700, 1029.8, 350)
    assert (wine.bottle, wine.price, wine.use_by) == (750, 9, datetime.date(2030, 12, 31))
    assert old_tom.note == "Old Tom Gin 70cl"


def test_a_name_without_a_letter_is_listed_as_not_known(bar: Path) -> None:
    text = "name,size\n1800,70cl\n43,\n=1+1,\n,70cl\n---,\ngin,70cl\n"
    path = listed(bar, text)
    lines = json.loads(run(bar, path, "--dry-run", "--json").stdout)["lines"]
    said = [(line["says"], line["fate"]) for line in lines]
    assert said == [
        ("1800", "not known"), ("43", "not known"), ("=1+1", "not known"), ("gin", "new"),
    ]  # fmt: skip
    result = run(bar, path, "--as", "43=vodka")
    assert result.exit_code == 0, result.output
    assert "Not known, and so not written" in result.stdout
    for option in ("--as 1800=INGREDIENT", "--as =1+1=INGREDIENT"):
        assert option in result.stdout
    assert "2 bottles added, 2 not." in result.stdout
    assert {row.ingredient.key for row in load_bar(bar).listed} == {"gin", "vodka"}


def test_a_workbook_says_what_its_csv_would(bar: Path) -> None:
    book = openpyxl.Workbook()
    book.active.title = "cover"
    sheet = book.create_sheet("stock")
    for row in (
        ["Product", "Size (ml)", "Unit price", "Qty", "Opened"],
        ["rye", 750, 31.2, 1.5, datetime.datetime(2026, 4, 1)],
        ["Mezcal", 700.0, 44, None, None],
        [None, None, 75.2, None, None],
    ):
        sheet.append(row)
    path = bar / "list.xlsx"
    book.save(path)
    text = "Product,Size (ml),Unit price,Qty,Opened\nrye,750,31.2,1.5,2026-04-01\nMezcal,700,44,,\n"
    first = json.loads(run(bar, str(path), "--json").stdout)
    (bar / "shelf.csv").unlink()
    second = json.loads(run(bar, listed(bar, text), "--json").stdout)
    assert first == second
    assert [line["fate"] for line in first["lines"]] == ["new", "new"]
    assert load_bar(bar).stocked("rye-whiskey").bottle == 750  # type: ignore[union-attr]


def test_without_its_reader_a_workbook_is_told_what_to_install(
    bar: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = io.BytesIO()
    openpyxl.Workbook().save(out)
    (bar / "list.xlsx").write_bytes(out.getvalue())
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    result = run(bar, str(bar / "list.xlsx"))
    assert result.exit_code == 2
    assert "`pip install openpyxl`, or save the sheet as CSV." in result.stderr


@pytest.mark.parametrize("raw", [b"PK\x03\x04", b"PK\x03\x04 and more", b"\xd0\xcf\x11\xe0", b""])
def test_what_is_no_table_is_said_so(bar: Path, raw: bytes) -> None:
    (bar / "list.xlsx").write_bytes(raw)
    result = run(bar, str(bar / "list.xlsx"))
    assert result.exit_code == 2
    assert result.stdout == ""
    assert not (bar / "shelf.csv").exists()


def test_a_name_is_asked_for_on_a_terminal(bar: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terminal, "is_there", lambda: True)
    text = "name,size\nrye whisky 7,70cl\nsmoky thing,70cl\nunheard,70cl\nlast,70cl\n"
    typed = "1\n9\nwhat\nmezcal\n0\npisco\ny\n"
    result = run(bar, listed(bar, text), typed=typed)
    assert result.exit_code == 0, result.output
    assert "'9' is not an ingredient known here" in result.stderr
    assert {row.ingredient.key for row in load_bar(bar).listed} == {
        "rye-whiskey",
        "mezcal",
        "pisco",
    }
    shelf = (bar / "shelf.csv").read_bytes()
    assert run(bar, listed(bar, "name\nvodka\n"), typed="n\n").exit_code == 0
    assert (bar / "shelf.csv").read_bytes() == shelf


def test_names_are_told_by_options(bar: Path) -> None:
    text = "name,size\nOld Tom,70cl\nThing = Two,70cl\nNo Good,1l\n"
    told = ("--as", "old tom=gin-old-tom", "--as", "Thing = Two=pisco", "--as", "no good=")
    result = run(bar, listed(bar, text), *told)
    assert "Left out: No Good." in result.stdout
    assert {row.ingredient.key for row in load_bar(bar).listed} == {"gin-old-tom", "pisco"}


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--as", "Old Tim=gin"), "'Old Tim' is not in the list. Did you mean Old Tom?"),
        (("--as", "Old Tom=jin"), "'jin' is not an ingredient known here"),
        (("--as", "Old Tom"), "--as is not NAME=WORD"),
        (("--column", "name=Produkt"), "no line has the heading 'Produkt'"),
        (("--column", "colour=name"), "known: name, size, price"),
    ],
)
def test_an_option_that_fits_nothing_is_a_mistake(
    bar: Path, options: tuple[str, ...], said: str
) -> None:
    result = run(bar, listed(bar, "name,size\nOld Tom,70cl\n"), *options)
    assert result.exit_code == 2
    assert said in result.stderr
    assert not (bar / "shelf.csv").exists()


def test_columns_are_told_where_headings_say_nothing(bar: Path) -> None:
    path = listed(bar, "stuff,kept,how much,paid\ngin,cellar,70cl,20\n")
    assert "Name it with --column" in run(bar, path).stderr
    told = ("--column", "name=stuff", "--column", "size=how much", "--column", "price=Paid")
    assert run(bar, path, *told).exit_code == 0
    row = load_bar(bar).stocked("gin")
    assert row is not None
    assert (row.bottle, row.price) == (700, 20)


def test_what_is_on_the_shelf_stays_until_an_update_is_asked_for(bar: Path) -> None:
    before = "place,ingredient,price,bottle\nwell,Gin,19,700 ml\n"
    (bar / "shelf.csv").write_text(before, encoding="utf-8")
    path = listed(bar, "name,price\ngin,21\n")
    assert "no empty cell to fill (--update changes what it says): gin." in run(bar, path).stdout
    assert (bar / "shelf.csv").read_text(encoding="utf-8") == before
    assert "0 bottles added, 1 changed." in run(bar, path, "--update").stdout
    after = "place,ingredient,price,bottle\nwell,Gin,21,700 ml\n"
    assert (bar / "shelf.csv").read_text(encoding="utf-8") == after


@pytest.mark.parametrize(
    ("head", "line", "abv"),
    [
        ("name", "Rye 45%", 45),
        ("name", "Rye Whiskey 90 proof", 45),
        ("name,ABV", "rye,45", 45),
        ("name,Alkohol", 'rye,"45,5 % vol"', 45.5),
        ("name,abv", "rye,0.45", 45),
        ("name", "rye", LIBRARY.find("rye").abv.value),
    ],
)
def test_the_strength_on_the_label_counts(bar: Path, head: str, line: str, abv: float) -> None:
    result = run(bar, listed(bar, f"{head}\n{line}\n"))
    assert result.exit_code == 0, result.output
    row = load_bar(bar).stocked("rye-whiskey")
    assert row is not None
    assert row.ingredient.abv.value == pytest.approx(abv)
    mark = "*" if line != "rye" else ""
    assert re.search(rf" {abv:g}{re.escape(mark)}\s", result.stdout)


def test_what_a_row_leaves_empty_is_filled_in_for_a_bottle_of_its_size(bar: Path) -> None:
    before = "ingredient,bottle,price\ngin,700 ml,\nvodka,1 l,22\nrye-whiskey,1 l,\n"
    (bar / "shelf.csv").write_text(before, encoding="utf-8")
    result = run(bar, listed(bar, "name,size,price\ngin,70cl,21\nvodka,70cl,15\nrye,70cl,30\n"))
    assert "Line 3, vodka: 1 l on the shelf, 70 cl in the list: price and count" in result.stdout
    assert "(size was 1 l)" in result.stdout  # of a size that nobody paid for yet
    after = "ingredient,bottle,price\ngin,700 ml,21\nvodka,1 l,22\nrye-whiskey,70 cl,30\n"
    assert (bar / "shelf.csv").read_text(encoding="utf-8") == after


def test_what_only_comes_near_is_not_offered_as_the_thing(bar: Path) -> None:
    result = run(bar, listed(bar, "name\nEarl Grey\nunheard of\n"))
    assert "--as 'Earl Grey=INGREDIENT'  What comes nearest is black-tea." in result.stdout
    assert "--as 'unheard of=INGREDIENT'\n" in result.stdout
    assert result.stdout.count("named by kind, not by brand: `equipour ingredients`") == 1


STARTER = "ingredient,bottle,price\ngin,750 ml,\nbourbon,750 ml,\nvodka,750 ml,30\n"


def test_a_starter_shelf_is_filled_and_the_sum_adds_up(bar: Path) -> None:
    (bar / "shelf.csv").write_text(STARTER, encoding="utf-8")
    text = "name,size,price\ngin,750ml,28\nvodka,750ml,30\nrum,750ml,20\nhm,1 l,2\nSalt,70cl,1\n"
    told = run(bar, listed(bar, text), "--as", "salt=", "--dry-run").stdout
    sums = re.search(r"(\d+) rows read.* (.*)\n", told)
    assert sums is not None
    assert int(sums[1]) == 5 == sum(map(int, re.findall(r"\d+", sums[0].partition("be:")[2])))
    assert "1 changed" in sums[0]
    assert "1 as it was" in sums[0]
    assert "1 left out" in sums[0]
    assert "1 bottle of the starter is on the shelf and not in the list: bourbon." in told


def test_only_takes_off_what_is_not_in_the_list_and_keeps_the_old_shelf(bar: Path) -> None:
    (bar / "shelf.csv").write_text(STARTER, encoding="utf-8")
    path = listed(bar, "name,size,price\nwhite rum,700ml,20\ngin,750ml,28\n")
    dry = run(bar, path, "--only", "--dry-run")
    assert "Taken off, as the list has none of it: bourbon, vodka." in dry.stdout
    assert (bar / "shelf.csv").read_text(encoding="utf-8") == STARTER
    for number in ("", "-2"):
        (bar / "shelf.csv").write_text(STARTER, encoding="utf-8")
        done = run(bar, path, "--only")
        assert done.exit_code == 0, done.output
        assert {row.ingredient.key for row in load_bar(bar).listed} == {"gin", "white-rum"}
        kept = next(bar.glob(f"shelf-before-????-??-??{number}.csv"))
        assert f"The shelf as it was is kept in {kept.name}." in done.stdout
        assert kept.read_text(encoding="utf-8") == STARTER


def test_only_never_empties_a_shelf(bar: Path) -> None:
    (bar / "shelf.csv").write_text(STARTER, encoding="utf-8")
    done = run(bar, listed(bar, "name\nunheard of\n"), "--only")
    assert done.exit_code == 2
    assert "the shelf would be empty" in done.stderr
    assert (bar / "shelf.csv").read_text(encoding="utf-8") == STARTER


def test_a_name_that_a_weak_bottle_shares_says_what_was_taken(bar: Path) -> None:
    told = run(bar, listed(bar, "name\ntriple sec\n"), "--dry-run").stdout
    assert "40% taken; triple sec, low strength has 15 to 30" in told
    stated = run(bar, listed(bar, "name,abv\ntriple sec,20%\n"), "--dry-run").stdout
    assert "taken;" not in stated
    assert "20*" in stated


def test_a_dry_run_writes_nothing(bar: Path) -> None:
    result = run(bar, listed(bar, "name\ngin\ngin\n"), "--dry-run")
    assert "Nothing is written. It would be: 1 bottle added, 1 not." in result.stdout
    assert "gin is on line 2 of it" in result.stdout
    assert not (bar / "shelf.csv").exists()


def test_a_formula_in_a_list_is_no_formula_on_the_shelf(bar: Path) -> None:
    path = listed(bar, 'name,notes\n"=cmd|calc",x\ngin,"=1+1"\n')
    assert run(bar, path, "--as", "=cmd|calc=pisco").exit_code == 0
    shelf = (bar / "shelf.csv").read_text(encoding="utf-8")
    assert ",=" not in shelf
    assert '"=' not in shelf


@pytest.mark.parametrize(
    ("written", "unit", "cell"),
    [
        ("70cl", "", "70 cl"),
        ("750", "", "750 ml"),
        ("1L", "", "1 l"),
        ("0,7 l", "", "0.7 l"),
        ("0,7", "", "0.7 l"),
        ("75", "", "75 cl"),
        ("70", "ml", "70 ml"),
        ("700 ML", "cl", "700 ml"),
        ("1.75 litres", "", "1.75 l"),
        ("25 fl. oz", "", "25 fl oz"),
        ("4 oz", "", "4 oz"),
        ("1 lb", "", "1 lb"),
        ("each", "", "1 piece"),
        ("1 kg", "", "1 kg"),
        (".75 l", "", "0.75 l"),
        (",7", "", "0.7 l"),
        ("1/2 gal", "", "1/2 gal"),
        ("", "", ""),
    ],
)
def test_a_size_is_read_as_people_write_it(written: str, unit: str, cell: str) -> None:
    assert size_cell(written, unit)[0] == cell


def test_a_size_that_can_be_read_two_ways_is_a_mistake() -> None:
    for written in ("1.000 ml", "1,000 ml"):
        with pytest.raises(BadInput, match="can be read two ways"):
            size_cell(written)


def test_what_was_taken_for_granted_of_a_size_is_told() -> None:
    assert size_cell("750")[1] == "750 taken as ml"
    assert size_cell("750", "ml")[1] == ""
    assert size_cell("70cl")[1] == ""


@pytest.mark.parametrize(
    ("written", "cell"),
    [
        ("€28,50", "28.50"),
        ("28.50 EUR", "28.50"),
        ("1.234,50 €", "1234.50"),
        ("1,234.50", "1234.50"),
        ("1,234", "1234"),
        ("44,-", "44"),
        ("28", "28"),
        ("3,5", "3.5"),
        (".45", "0.45"),
        ("$ .75", "0.75"),
        ("$.60", "0.60"),
        ("USD .60", "0.60"),
        (",99", "0.99"),
        ("0,500", "0.500"),
        ("Fr. 28.50", "28.50"),
        ("kr.45", "45"),
        ("", ""),
    ],
)
def test_a_price_is_read_as_people_write_it(written: str, cell: str) -> None:
    assert price_cell(written, "") == cell


@pytest.mark.parametrize("written", ["$28", "28 GBP", "cheap", "-", "28 per case"])
def test_a_price_that_is_not_the_bar_s_is_a_mistake(written: str) -> None:
    with pytest.raises(BadInput):
        price_cell(written, "EUR")


@pytest.mark.parametrize("written", ["-5", "−5", "€ -.50", "5-", "28-30", "1/2", "(5.00)", "½"])
def test_a_price_that_is_no_plain_number_is_a_mistake_and_never_another(written: str) -> None:
    with pytest.raises(BadInput, match="is no price"):
        price_cell(written, "")


@given(value=st.decimals("0.01", "0.99", places=2), sign=st.sampled_from(["", "$", "$ ", "€"]))
def test_a_price_below_one_may_leave_its_nought_out(value: Decimal, sign: str) -> None:
    assert Decimal(price_cell(f"{sign}{str(value)[1:]}", "")) == value


def test_which_of_two_numbers_a_price_was_taken_for_is_told() -> None:
    assert price_taken("1.500") == "1.500 taken as 1.5"
    assert price_taken("$1,500") == "1,500 taken as 1500"
    assert price_taken("1,500.00") == price_taken("0.125") == price_taken("15.00") == ""


def test_prices_sizes_and_counts_below_one_reach_the_shelf(bar: Path) -> None:
    (bar / "bar.toml").write_text('name = "b"\ncurrency = "USD"\n', encoding="utf-8")
    table = "Name,Size,Price,Qty\nLemons,each,.45,12\ngin,.75 l,$ .75,.5\nrye,1/2 gal,-5,1/2\n"
    result = run(bar, listed(bar, table))
    shelf = load_bar(bar).shelf
    assert shelf is not None
    lemon, gin = (shelf.row(key) for key in ("whole-lemons", "gin"))
    assert lemon is not None
    assert gin is not None
    assert (lemon.price, gin.price, gin.bottle, gin.on_hand) == (0.45, 0.75, 750, 375)
    assert "'-5' is no price: it is below zero" in result.stdout


@given(whole=st.integers(0, 10**7), cents=st.integers(0, 99))
def test_a_price_with_cents_is_one_number_in_every_country(whole: int, cents: int) -> None:
    plain = f"{whole}.{cents:02}"
    grouped = f"{whole:,}.{cents:02}"
    turned = grouped.translate(str.maketrans(",.", ".,"))
    for said in (plain, plain.replace(".", ","), grouped, turned, grouped.replace(",", "'")):
        assert price_cell(said, "") == plain


@pytest.mark.parametrize(
    ("written", "cell"),
    [
        ("2", "2 bottles"),
        ("1,5", "1.5 bottles"),
        ("3 Flaschen", "3 bottles"),
        ("450 ml", "450 ml"),
        (".5", "0.5 bottles"),
        ("1/2", "1/2 bottles"),
        ("-2", "-2"),
    ],
)
def test_stock_counts_bottles_where_nothing_else_is_said(written: str, cell: str) -> None:
    assert stock_cell(written) == cell


@pytest.mark.parametrize(
    ("name", "bare", "size"),
    [
        ("Gin 43 %, 70cl", "Gin", "70cl"),
        ("Rum (0,7 l)", "Rum", "0,7 l"),
        ("Rye 50% vol", "Rye", ""),
        ("70cl", "70cl", "70cl"),
        ("2:1 syrup", "2:1 syrup", ""),
        ("Rum .75 l", "Rum", ".75 l"),
        ("Shrub .5%", "Shrub", ""),
    ],
)
def test_a_name_is_told_from_its_size(name: str, bare: str, size: str) -> None:
    assert (without_sizes(name), size_in(name)) == (bare, size)


@pytest.mark.parametrize(
    ("headings", "places"),
    [
        ("Product Name,Bottle Size,Cost per bottle,On Hand", "ingredient bottle price on_hand"),
        ("Désignation,Contenance,Prix d'achat,Quantité", "ingredient bottle price on_hand"),
        ("Producto,Tamaño (cl),Precio,Existencias", "ingredient bottle price on_hand"),
        ("Prodotto,Formato,Prezzo,Giacenza", "ingredient bottle price on_hand"),
        ("Bezeichnung,Größe,EK,Menge", "ingredient bottle price on_hand"),
        ("Brand,Ingredient,ml,€ price,Alc.", "- ingredient bottle price abv"),
        ("Item,Total value,Supplier,Best before", "ingredient - supplier use_by"),
        ("Item,Pack,Vendor,Vendor code", "ingredient case supplier -"),
        ("Item,Case,Case price,Bottle price", "ingredient case - price"),
        ("Item,Bottles per case,Cases on hand,Pack size", "ingredient case - bottle"),
        ("Item,Case on hand,Price (bottle of case)", "ingredient - price"),
        ("Artikel,VPE,Lieferant", "ingredient case supplier"),
    ],
)
def test_headings_are_known_in_several_languages(headings: str, places: str) -> None:
    head = find_head([GridRow(1, tuple(headings.split(",")))], {})
    wanted = {word: at for at, word in enumerate(places.split()) if word != "-"}
    assert head.places == wanted


def test_who_delivers_it_and_in_what_case_come_with_the_list(bar: Path) -> None:
    table = "Name,Size,Price,Case,Vendor\ngin,1 l,28,6 x 1 l,=Harbour (invented)\nrye,1 l,30,1 l,\n"
    result = run(bar, listed(bar, table), "--yes")
    assert result.exit_code == 0, result.stderr
    assert "case from 'Case'" in result.stdout
    assert "supplier from 'Vendor'" in result.stdout
    assert "(case '1 l' not read)" in result.stdout
    assert "(case of 6, from Harbour (invented))" in result.stdout
    gin, rye = (load_bar(bar).stocked(key) for key in ("gin", "rye-whiskey"))
    assert gin is not None
    assert rye is not None
    assert (gin.case, gin.supplier) == (6, "Harbour (invented)")
    assert (rye.case, rye.supplier) == (1, "")
    told = listed(bar, "Name,Rep,Per box\npisco,Quay (invented),12\n")
    assert run(bar, told, "--column", "supplier=Rep", "--column", "case=Per box").exit_code == 0
    pisco = load_bar(bar).stocked("pisco")
    assert pisco is not None
    assert (pisco.case, pisco.supplier) == (12, "Quay (invented)")


def test_the_ounces_of_a_litre_are_the_same_bottle(bar: Path) -> None:
    (bar / "shelf.csv").write_text("ingredient,bottle,price,on_hand\ngin,1 l,,2 bottles\n")
    result = run(bar, listed(bar, "name,size,price\ngin,33.8 fl oz,28\n"))
    gin = load_bar(bar).stocked("gin")
    assert gin is not None, result.stdout
    assert (gin.price, gin.bottle) == (28, 1000)


BAR: list[Bar] = []
CELLS = st.sampled_from(
    ["", "gin", "Rye", "70cl", "0,7", "28,50 €", "2", "name", "size", "preis", "qty", "=1+1", "…"]
) | st.text(max_size=8)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=examples(0.5))
@given(rows=st.lists(st.lists(CELLS, max_size=5), min_size=1, max_size=8), update=st.booleans())
def test_any_table_is_a_shelf_or_a_mistake_and_no_name_is_guessed(
    bar: Path, rows: list[list[str]], update: bool
) -> None:
    if not BAR:
        BAR.append(load_bar(bar))
    head = ["name", "size", "price", "qty"]
    grid = [GridRow(at, tuple(row)) for at, row in enumerate([head, *rows], start=1)]
    found = understand(grid, BAR[0], AskedName({}, {}, update))
    shelf = with_list(found, BAR[0])
    for line in found.lines:
        known = line.name in LIBRARY or without_sizes(line.name) in LIBRARY
        assert (line.fate is Fate.UNKNOWN) == (not known)
    assert {row.ingredient.key for row in shelf.rows} == {
        line.item.key for line in found.lines if line.written and line.item
    }


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=examples(0.5))
@given(raw=st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
def test_any_file_is_rows_or_a_mistake(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "any"
    path.write_bytes(raw)
    try:
        rows = read_grid(path)
    except BadInput:
        return
    assert all(any(row.cells) for row in rows)


def test_a_bottle_that_was_opened_on_a_day_to_come_is_left_out_and_the_bar_still_loads(
    bar: Path,
) -> None:
    path = listed(bar, "name,opened\npisco,2999-05-01\ncachaca,2026-05-01\n")
    result = run(bar, path)
    assert "is still to come" in " ".join(result.output.split())
    kept = {row.ingredient.key: row for row in load_bar(bar).stock}
    assert "pisco" not in kept
    assert kept["cachaca"].opened is not None


@pytest.mark.parametrize(
    "table",
    [
        "What,Where,EUR\ngin,bar,18.90\n",
        "Zeug;Preis\nGin;18,90\n",
        "What\ngin\n",
        "No.,Sort of thing,Size,Price\n1,gin,700 ml,18.90\n",
    ],
)
def test_names_are_found_under_whatever_heading(table: str, bar: Path, tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text(table, encoding="utf-8")
    said = run(bar, str(tmp_path / "list.csv"), "--dry-run")
    assert said.exit_code == 0, said.stderr
    assert "name from" in said.stdout


def test_two_columns_of_words_under_no_known_heading_are_asked_for(
    bar: Path, tmp_path: Path
) -> None:
    (tmp_path / "list.csv").write_text("Zeug,Ort,Price\ngin,bar,18.90\n", encoding="utf-8")
    said = run(bar, str(tmp_path / "list.csv"), "--dry-run")
    assert said.exit_code == 2
    assert "--column" in said.stderr
