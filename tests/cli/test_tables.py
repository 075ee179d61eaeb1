"""Tables for spreadsheets: RFC 4180 (Shafranovich, October 2005), and no text becomes a formula.

Which signs begin a formula: OWASP, "CSV Injection" (=, +, -, @, tab, carriage return), from memory.
"""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import example, given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.show.text.table import csv_table
from tests.open_bars import OPEN
from tests.tasks.bars import DEMO

FORMULAS = ("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠")
LETTERS = st.characters(exclude_categories=["Cs"])
CELLS = st.text(LETTERS, max_size=20) | st.builds(
    str.__add__, st.sampled_from([*FORMULAS, " =", "\n="]), st.text(LETTERS, max_size=8)
)
ASKED = ("shelf", "ingredients", "profiles", "specs", "rebalance", "assess --all",
         "tradeoff bollard-sour --points 4", "profiles sour", "ingredients gin")  # fmt: skip


def rows_of(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def lines_of(text: str) -> list[str]:
    """Records end with CRLF (section 2, 1), the last one too (section 2, 2, allows it)."""
    assert text.endswith("\r\n")
    return text.removesuffix("\r\n").split("\r\n")


@given(st.lists(st.tuples(CELLS, CELLS), max_size=5))
@example([("=1+1", "\t=2"), ('"', ","), ("\r\n", "a\nb")])
def test_no_text_is_a_formula_and_every_record_is_a_line(cells: list[tuple[str, str]]) -> None:
    text = csv_table(("one", "other"), cells)
    rows = rows_of(text)
    assert len(rows) == len(lines_of(text)) == 1 + len(cells)
    assert "\n" not in text.replace("\r\n", "")
    for row, written in zip(rows[1:], cells, strict=True):
        for read, cell in zip(row, written, strict=True):
            assert not read.lstrip().startswith(FORMULAS)
            assert read.isprintable()
            if cell.isprintable() and not cell.strip().startswith(FORMULAS):
                assert read == cell  # quotes and commas come back as they were (section 2, 5 to 7)


@given(st.floats(-1e6, 1e6))
def test_a_number_is_a_number_below_nothing_too(value: float) -> None:
    (_, (cell,)) = rows_of(csv_table(("value",), [(value,)]))
    assert float(cell) == pytest.approx(value, abs=1e-4)


@pytest.mark.parametrize("asked", ASKED)
def test_every_table_has_heads_and_as_many_cells_in_every_line(asked: str) -> None:
    result = CliRunner().invoke(main, ["--bar", str(DEMO), *asked.split(), "--csv"], obj=OPEN)
    assert result.exit_code in {0, 1}, result.output  # 1: a spec that cannot be saved
    text = result.stdout_bytes.decode()
    heads, *rows = rows_of(text)
    assert len(heads) == len(set(heads)) > 3
    assert rows
    assert {len(row) for row in rows} == {len(heads)}
    assert len(lines_of(text)) == 1 + len(rows)


@pytest.mark.parametrize("asked", ASKED)
def test_an_answer_has_one_form(asked: str) -> None:
    line = ["--bar", str(DEMO), *asked.split(), "--csv", "--json"]
    result = CliRunner().invoke(main, line)
    assert result.exit_code == 2
    assert "choose --json or --csv" in result.stderr


def test_a_name_from_a_file_cannot_become_a_formula(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    spec = tmp_path / "demo" / "specs" / "rope-store.toml"
    spec.write_text(spec.read_text().replace('"Rope Store"', '"=HYPERLINK(1)"'))
    result = CliRunner().invoke(main, ["--bar", str(tmp_path / "demo"), "specs", "--csv"])
    assert [row[0] for row in rows_of(result.stdout)].count("'=HYPERLINK(1)") == 1
