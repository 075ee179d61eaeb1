"""Shelves in the forms in which spreadsheets save them: each says the same.

The files in `data` are what LibreOffice Calc 7.4.7 writes, byte for byte, from one workbook: with
commas, semicolons, all texts quoted in Windows text, tabs in UTF-16 with its mark, and, where its
locale is German, with decimal commas.
"""

import codecs
from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.pantry.library import load_library
from solver.pantry.shelf import read_shelf
from solver.pantry.stocked import Stocked
from solver.quantities import Measures

DATA = Path(__file__).parent / "data"
FILES = sorted(DATA.glob("shelf_calc_*.csv"))


def rows(path: Path) -> tuple[Stocked, ...]:
    return read_shelf(path, load_library(), Measures(), "EUR").rows


def said(path: Path) -> list[tuple[object, ...]]:
    """What each row comes to, without the line that it stands on."""
    return [
        (r.ingredient.key, r.ingredient.abv.value, r.bottle, r.price, r.on_hand, r.opened)
        for r in rows(path)
    ]


def test_there_are_five_forms_one_with_decimal_commas() -> None:
    assert len(FILES) == 5
    assert b";36,2;" in (DATA / "shelf_calc_semicolon_decimal_comma.csv").read_bytes()


@pytest.mark.parametrize("form", ["comma_utf8", "semicolon_utf8", "semicolon_decimal_comma"])
def test_a_byte_order_mark_changes_nothing_and_is_kept(form: str, tmp_path: Path) -> None:
    path = DATA / f"shelf_calc_{form}.csv"
    marked = tmp_path / "shelf.csv"
    marked.write_bytes(codecs.BOM_UTF8 + path.read_bytes())
    assert said(marked) == said(path)
    shelf = read_shelf(marked, load_library(), Measures(), "EUR")
    changed = shelf.with_cells(shelf.rows[0].ingredient.key, {"on_hand": "123 ml"})
    marked.write_bytes(changed.sheet.render())
    assert marked.read_bytes().startswith(codecs.BOM_UTF8 + b"ingredient")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_form_of_a_shelf_says_the_same(path: Path) -> None:
    assert said(path) == said(FILES[0])
    assert len(said(path)) > 1


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_one_changed_cell_leaves_every_other_row_and_the_form_as_they_were(
    path: Path, tmp_path: Path
) -> None:
    copy = tmp_path / path.name
    copy.write_bytes(path.read_bytes())
    shelf = read_shelf(copy, load_library(), Measures(), "EUR")
    key = shelf.rows[0].ingredient.key
    copy.write_bytes(shelf.with_cells(key, {"on_hand": "123 ml"}).sheet.render())
    before, after = said(path), said(copy)
    assert after[0][4] == 123
    assert after[1:] == before[1:]
    assert copy.read_bytes()[:3] == path.read_bytes()[:3]


def test_a_suggestion_from_the_file_itself_can_be_printed(tmp_path: Path) -> None:
    path = tmp_path / "shelf.csv"
    path.write_bytes(b"\x01ingredient,price\ngin,20\n")
    with pytest.raises(BadInput) as caught:
        rows(path)
    assert str(caught.value).isprintable()
