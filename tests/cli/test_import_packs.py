"""Packs in a stranger's list: the size and the price of one, or a refusal, never one silently."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.errors import BadInput
from solver.pantry.load_bar import load_bar
from solver.tasks.shelf_import.cells import size_in, without_sizes
from solver.tasks.shelf_import.packs import Pack, pack_in, price_of_one


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    return tmp_path


def imported(bar: Path, text: str, *options: str) -> str:
    path = bar / "list.csv"
    path.write_text(text, encoding="utf-8")
    line = ["shelf", "import", str(path), "--bar", str(bar), *options]
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.mark.parametrize(
    ("row", "key", "size", "price", "on_hand"),
    [
        ("Ginger Beer 24 x 0,2 l;;19,20;1", "ginger-beer", 200, 0.8, 4800),
        ("soda water 6x1 l;;4,74;2", "soda-water", 1000, 0.79, 12000),
        ("gin 6/750ml;;120;0,5", "gin", 750, 20, 2250),
        ("tonic water;24 × 20cl;24;1", "tonic-water", 200, 1, 4800),
        ("cola case of 12;0,33 l;12;2 bottles", "cola", 330, 1, 660),
        ("cola 0,2 l x 24;;24;", "cola", 200, 1, None),
        ("vodka (6x70cl);;90;2 bottles", "vodka", 700, 15, 1400),
        ("cola 6er;0,33 l;6;1", "cola", 330, 1, 1980),
        ("cola 24 pcs;0,2 l;24;", "cola", 200, 1, None),
    ],
)
def test_a_pack_is_so_many_of_one(
    bar: Path, row: str, key: str, size: float, price: float, on_hand: float | None
) -> None:
    said = imported(bar, f"Artikel;Inhalt;Preis;Bestand\n{row}\n")
    assert " at " in said
    assert " each" in said
    stocked = load_bar(bar).stocked(key)
    assert stocked is not None
    assert stocked.bottle == pytest.approx(size)
    assert stocked.price == pytest.approx(price)
    assert stocked.on_hand == (None if on_hand is None else pytest.approx(on_hand))


@pytest.mark.parametrize("name", ["limes 20 Stück", "limes 20 pieces", "limes, 20 pcs"])
def test_fruit_by_the_number_is_a_pack_of_pieces(bar: Path, name: str) -> None:
    said = imported(bar, f"name;price;stock\n{name};7,50;2\n")
    assert "2 on hand taken as 2 of 20 pieces" in said
    limes = load_bar(bar).stocked("whole-limes")
    assert limes is not None
    assert limes.ingredient.piece is not None
    each = limes.ingredient.piece.value
    assert (limes.bottle, limes.price, limes.on_hand) == (20 * each, 7.5, 40 * each)


@pytest.mark.parametrize(
    ("name", "key", "grams"),
    [
        ("lemons 2 lb", "whole-lemons", 907.18474),
        ("rhubarb 1 kg", "rhubarb", 1000),
        ("white sugar 1 kg", "white-sugar", 1000),
    ],
)
def test_a_weight_in_a_name_is_its_size(bar: Path, name: str, key: str, grams: float) -> None:
    imported(bar, f"name;price;stock\n{name};4;2\n")
    stocked = load_bar(bar).stocked(key)
    assert stocked is not None
    assert stocked.bottle == pytest.approx(grams)
    assert stocked.on_hand == pytest.approx(2 * grams)


@pytest.mark.parametrize(
    ("head", "row", "why"),
    [
        ("name;price;case", "gin 6 x 0,7 l;120;6", "the price of one or of all 6"),
        ("name;unit price", "gin 6 x 0,7 l;120", "the price of one or of all 6"),
        ("name;Stückpreis", "limes 20 Stück;7,50", "the price of one or of all 20"),
        ("name;price", "cola case of 12;10", "how much one of 12 holds is not said"),
        ("name;size;price", "cola 24 x 0,2 l;0,33 l;10", "two sizes of one"),
        ("name;size;price", "cola 24 x 0,2 l;6 x 0,2 l;10", "the name says 24 and the size 6"),
        ("name;size;price", "limes 20 Stück;10 pieces;5", "the name says 20 pieces"),
        ("name;price", "cola 4 x 6 x 0,2 l;10", "is a pack that cannot be read"),
        ("name;price", "white sugar 2/5 kg;10", "can be read two ways"),
    ],
)
def test_what_can_be_read_two_ways_is_refused(bar: Path, head: str, row: str, why: str) -> None:
    said = imported(bar, f"{head}\nvodka;1\n{row}\n".replace("vodka;1", _fits(head)))
    assert why in said
    assert "Write the size and the price of one, like 0.2 l and 0.80." in said
    assert [each.ingredient.key for each in load_bar(bar).listed] == ["vodka"]


def test_pieces_on_hand_beside_a_pack_of_pieces_are_asked_for(bar: Path) -> None:
    said = imported(bar, "Artikel;Inhalt;Preis;Bestand\nEier;10 Stück;2,90;30 Stück\n")
    assert "'30 Stück' on hand can be read two ways" in said
    assert not (bar / "shelf.csv").exists()


def test_a_bare_size_of_eggs_counts_them(bar: Path) -> None:
    imported(bar, "name,size,price,stock\neggs,10,3.20,3\n")
    eggs = load_bar(bar).stocked("whole-egg")
    assert eggs is not None
    assert eggs.bottle == pytest.approx(485)
    assert eggs.on_hand == pytest.approx(3 * 485)


def _fits(head: str) -> str:
    return f"vodka{';' * head.count(';')}"


def test_under_a_heading_of_bottles_price_and_count_are_of_one(bar: Path) -> None:
    imported(bar, "name;Price per bottle;Flaschen\ngin 6 x 0,7 l;20;3\n")
    gin = load_bar(bar).stocked("gin")
    assert gin is not None
    assert (gin.price, gin.case) == (20, 6)
    assert gin.on_hand == pytest.approx(2100)


@given(st.integers(2, 1000), st.sampled_from(["x", " x ", "×", "*"]), st.integers(1, 999))
def test_whatever_the_numbers_a_pack_is_read_back(count: int, sign: str, size: int) -> None:
    name = f"ginger beer {count}{sign}{size} ml"
    assert pack_in(name) == Pack(count, f"{size} ml", f"{count}{sign}{size} ml")
    assert without_sizes(name) == "ginger beer"
    assert float(price_of_one(f"{count * 3}", Pack(count, "", ""), "price")) == 3


@pytest.mark.parametrize("size", ["1/2 l", "3/4 l", "0.7 l", "70cl", "1,5 l"])
def test_a_size_of_one_is_no_pack(size: str) -> None:
    assert pack_in(size) is None


def test_an_unreadable_pack_is_no_size() -> None:
    with pytest.raises(BadInput, match="is no pack"):
        pack_in("cola 5000 x 0.2 l")
    assert size_in("rum 12 year") == ""


def test_a_fraction_in_a_name_is_its_size(bar: Path) -> None:
    imported(bar, "name;price;stock\nrye 3/4 l;20;2\n")
    rye = load_bar(bar).stocked("rye-whiskey")
    assert rye is not None
    assert (rye.bottle, rye.price, rye.on_hand) == (750, 20, 1500)


GERMAN = (
    "Artikel;Preis;Bestand\nWodka 0,7 l;12,90;3\nGin trocken 0,7 l 40 %;18,90;4\n"
    "Weißer Rum 0,7 l;14,50;2\nKümmelschnaps 0,7 l;13,40;1\nRoter Wermut 0,75 l;8,90;2\n"
    "Trockener Wermut 0,75 l;8,90;2\nOrangenlikör 0,7 l;16,80;1\nSekt 0,75 l;5,49;6\n"
    "Zitronensaft frisch 1 l;6,80;2\nLimetten 20 Stück;7,50;1\nSahne 1 l;4,60;1\n"
    "Eiweiß pasteurisiert 0,5 l;4,20;2\nHonig 500 g;5,90;2\nZucker weiß 1 kg;1,29;5\n"
    "Sodawasser 6 x 1 l;4,74;2\nRhabarber 1 kg;3,90;4\nIngwer 500 g;4,50;1\nZimt 100 g;3;1\n"
    "Absinth 0,5 l;40;1\nKorn 0,7 l;9,90;1\n"
)
GERMAN_KEYS = [
    "vodka", "gin", "white-rum", "aquavit", "sweet-vermouth", "dry-vermouth", "orange-liqueur",
    "sparkling-wine", "lemon-juice", "whole-limes", "heavy-cream", "egg-white", "honey",
    "white-sugar", "soda-water", "rhubarb", "ginger-root", "cassia", "absinthe",
]  # fmt: skip


def test_a_german_delivery_is_read_and_read_again(bar: Path) -> None:
    said = imported(bar, GERMAN)
    assert "19 bottles added, 1 not." in said
    assert "What comes nearest is vodka" in said
    assert [row.ingredient.key for row in load_bar(bar).listed] == GERMAN_KEYS
    new = ("--as", "Korn 0,7 l=new like vodka")
    assert "1 bottle added, 19 as they were." in imported(bar, GERMAN, *new)
    before = (bar / "shelf.csv").read_bytes()
    assert "20 as they were" in imported(bar, GERMAN, *new)
    imported(bar, GERMAN, *new, "--update")
    assert (bar / "shelf.csv").read_bytes() == before


def test_what_is_new_like_something_else_stays_another(bar: Path) -> None:
    text = "name;price\nKorn 0,7 l;9\n"
    imported(bar, text, "--as", "Korn 0,7 l=new like vodka")
    (bar / "list.csv").write_text(text, encoding="utf-8")
    line = ["shelf", "import", str(bar / "list.csv"), "--bar", str(bar)]
    again = CliRunner().invoke(main, [*line, "--as", "Korn 0,7 l=new like gin"])
    assert again.exit_code == 2
    assert "is a name of korn already" in again.output
