"""Sales as a till exports them: read one way or refused, and each drink counted once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.pantry.load_bar import load_bar
from solver.pantry.stock_log import StockLog, read_log
from solver.tasks.stock import movement
from solver.tasks.stock.sales import sold
from solver.tasks.stock.sales_file import read_sales
from tests.stock.bars import on_hand, run, sales, write


def test_more_than_there_is_takes_a_word(root: Path) -> None:
    (root / "many.csv").write_text("drink,sold\nHarbour Light,90\n", encoding="utf-8")
    before = (root / "shelf.csv").read_bytes()
    refused = run(root, "sold", str(root / "many.csv"))
    assert refused.exit_code == 2
    assert "rye-whiskey (5400 mL poured, 910 there)" in refused.stderr
    assert (root / "shelf.csv").read_bytes() == before
    done = run(root, "sold", str(root / "many.csv"), "--run-out")
    assert done.exit_code == 0
    assert "rye-whiskey ran out: 4490 mL more were poured" in done.stdout
    assert on_hand(root)["rye-whiskey"] == 0


def test_a_file_is_taken_off_once(root: Path) -> None:
    (root / "s.csv").write_text("Harbour Light;3\nRope Store;2\n", encoding="utf-8")
    line = ("sold", str(root / "s.csv"))
    assert run(root, *line).exit_code == 0
    again = run(root, *line)
    assert again.exit_code == 2
    assert "taken off already" in again.stderr
    assert run(root, "undo").exit_code == 0
    assert run(root, *line).exit_code == 0


def test_unknown_names_stop_everything_until_they_are_mapped(root: Path) -> None:
    text = "Article,Qty\nHBR LIGHT,3\nharbour-light,1\nFIZZ,2\nTotal,6\n"
    (root / "s.csv").write_text(text, encoding="utf-8")
    refused = run(root, "sold", str(root / "s.csv"))
    assert refused.exit_code == 2
    assert "3 names are of no spec here: HBR LIGHT (harbour-light?), FIZZ, Total" in refused.stderr
    assert not (root / "stock-log.csv").exists()
    mapped = run(root, "sold", str(root / "s.csv"), "--as", "HBR LIGHT=harbour-light", "--as",
                 "FIZZ=150 ml sparkling-wine", "--skip", "total")  # fmt: skip
    assert mapped.exit_code == 0, mapped.stderr
    now = on_hand(root)
    assert now["rye-whiskey"] == pytest.approx(910 - 4 * 60, abs=0.1)
    assert now["sparkling-wine"] == pytest.approx(8 * 750 - 300, abs=0.1)


@pytest.mark.parametrize(
    "text",
    [
        "drink,sold\nRope Store,3\n",
        "Artikel;Anzahl;Umsatz\nRope Store;4;48,00\nROPE STORE;-1;-12,00\n",
        "Date\tItem\tQty\n2026-05-09T23:10\trope store\t3\n",
        "Rope Store,3\n",
        "3;rope-store\n",
        "\ufeffQty,Product Name\n1,Rope Store\n2,Rope Store\n",
    ],
)
def test_exports_of_any_till_are_read(text: str, tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text(text, encoding="utf-8")
    (line,) = read_sales(path).lines
    assert line.number == 3


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1.200", "'1.200' can be read two ways (s.csv, line 2)"),
        ("1,234", "can be read two ways"),
        ("-1.200", "can be read two ways"),
        ("1.5", "'1.5' is a fraction of a drink (s.csv, line 2)"),
        ("2,50", "is a fraction of a drink"),
        ("1.234,50", "is a fraction of a drink"),
    ],
)
@pytest.mark.parametrize("head", ["drink;sold", "Rope Store;1"])
def test_a_number_that_may_be_another_is_refused(
    head: str, text: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("s.csv").write_text(f"{head}\nHarbour Light;{text}\n", encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        read_sales(Path("s.csv"))
    assert said in refused.value.sentence()


@pytest.mark.parametrize(
    ("text", "number"),
    [("1.234,00", 1234), ("1,234.00", 1234), ("1.234.567,0", 1234567), ("3,00", 3), ("1200", 1200)],
)
def test_thousands_with_decimals_are_read_one_way(text: str, number: int, tmp_path: Path) -> None:
    (tmp_path / "s.csv").write_text(f"drink;sold\nHarbour Light;{text}\n", encoding="utf-8")
    (line,) = read_sales(tmp_path / "s.csv").lines
    assert line.number == number


def test_the_first_line_may_hold_the_number_that_is_refused(tmp_path: Path) -> None:
    (tmp_path / "s.csv").write_text("Harbour Light;1.200\n", encoding="utf-8")
    with pytest.raises(BadInput, match="two ways"):
        read_sales(tmp_path / "s.csv")


def test_a_spec_under_several_names_is_counted_once(root: Path) -> None:
    text = "HARBOUR-LIGHT;-2\nHarbour Light;7\nHBR;1\nRope Store;2\nrope-store;-2\n"
    (root / "s.csv").write_text(f"drink;sold\n{text}", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"), "--as", "HBR=harbour-light", "--json")
    assert result.exit_code == 0, result.stderr
    (drink,) = json.loads(result.stdout)["drinks"]
    assert (drink["spec"], drink["sold"]) == ("Harbour Light", 6)
    assert on_hand(root)["rye-whiskey"] == pytest.approx(910 - 6 * 60, abs=0.1)


def test_more_voids_than_drinks_are_refused(root: Path) -> None:
    text = "drink;sold\nRope Store;9\nHarbour Light;2\nHARBOUR-LIGHT;-3\n"
    (root / "s.csv").write_text(text, encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"))
    assert result.exit_code == 2
    assert "fewer than none of 'Harbour Light' were sold" in result.stderr
    assert "line 3" in result.stderr


def test_a_broken_spec_stops_no_other_from_being_sold(root: Path) -> None:
    (root / "specs" / "rope-store.toml").write_text("name = \n", encoding="utf-8")
    (root / "s.csv").write_text("drink;sold\nHarbour Light;1\n", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"))
    assert result.exit_code == 0, result.stderr
    assert "rope-store.toml is left aside" in result.stderr
    assert on_hand(root)["rye-whiskey"] == pytest.approx(910 - 60, abs=0.1)


def test_a_broken_spec_that_was_sold_is_refused_with_its_own_mistake(root: Path) -> None:
    (root / "specs" / "rope-store.toml").write_text("name = \n", encoding="utf-8")
    (root / "s.csv").write_text("drink;sold\nRope Store;1\nDry Dock;1\n", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"))
    assert result.exit_code == 2
    assert "of no spec" not in result.stderr
    assert "rope-store.toml, line 1" in result.stderr
    skipped = run(root, "sold", str(root / "s.csv"), "--skip", "rope store")
    assert skipped.exit_code == 0, skipped.stderr


@pytest.mark.parametrize("text", ["Coat check;3\n", "Coat check;3\nDry Dock;2\nDRY-DOCK;-2\n"])
def test_where_no_drink_was_sold_that_is_said(text: str, root: Path) -> None:
    (root / "s.csv").write_text(f"drink;sold\n{text}", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"), "--skip", "coat check")
    assert result.exit_code == 0, result.stderr
    said = "No drink was sold: nothing was written.\nLeft out: Coat check.\n"
    assert result.stdout.startswith(said)
    assert not (root / "stock-log.csv").exists()


def test_the_last_bottle_of_what_keeps_for_days_is_dated_when_it_is_begun(root: Path) -> None:
    shelf = root / "shelf.csv"
    old = "light-orange-bitter,1000 ml,15.90,1.6 bottles,2026-04-24"
    text = shelf.read_text(encoding="utf-8")
    assert old in text
    new = "light-orange-bitter,1000 ml,15.90,1 bottle,"
    shelf.write_text(text.replace(old, new), encoding="utf-8")
    bar = load_bar(root)
    found = sold(sales({"Low Water": 2}), bar)
    assert "light-orange-bitter" in found.opened
    write(found.movement, bar)
    row = load_bar(root).stocked("light-orange-bitter")
    assert row is not None
    assert row.opened == bar.today
    assert row.use_by is not None


def test_what_is_weighed_is_told_in_grams(root: Path) -> None:
    (root / "s.csv").write_text("FIZZ,2\n", encoding="utf-8")
    weighed = "FIZZ=10 g white-sugar"
    said = run(root, "sold", str(root / "s.csv"), "--as", weighed, "--json")
    assert said.exit_code == 0, said.stderr
    (row,) = json.loads(said.stdout)["rows"]
    assert (row["ingredient"], row["poured_g"]) == ("white-sugar", 20)


def test_what_was_poured_past_its_last_day_is_said(root: Path) -> None:
    shelf = root / "shelf.csv"
    text, file = shelf.read_text(encoding="utf-8"), sales({"Low Water": 2})
    assert sold(file, load_bar(root)).past == ()
    old = "light-orange-bitter,1000 ml,15.90,1.6 bottles,2026-04-24"
    shelf.write_text(text.replace(old, old.replace("2026", "2020")), encoding="utf-8")
    past = sold(file, load_bar(root)).past
    assert [row.ingredient.key for row in past] == ["light-orange-bitter"]


def test_a_bottle_that_is_left_whole_is_not_begun(root: Path) -> None:
    shelf, key = root / "shelf.csv", "light-orange-bitter"
    text, many = shelf.read_text(encoding="utf-8"), sales({"Low Water": 60})
    poured = sold(many, load_bar(root), run_out=True).poured[key]
    assert poured > 1000
    old, new = f"{key},1000 ml,15.90,1.6 bottles,2026-04-24", f"{key},1000 ml,15.90,"
    for more, begun in ((0, False), (-1, True)):
        left = f"{new}{1000 + more + poured:.4f} ml,"
        shelf.write_text(text.replace(old, left), encoding="utf-8")
        assert (key in sold(many, load_bar(root), run_out=True).opened) == begun


def test_the_log_is_read_once(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (root / "s.csv").write_text("Harbour Light;3\n", encoding="utf-8")
    read: list[Path] = []

    def noted(path: Path) -> StockLog:
        read.append(path)
        return read_log(path)

    monkeypatch.setattr(movement, "read_log", noted)
    assert sold(read_sales(root / "s.csv"), load_bar(root)).movement is not None
    assert len(read) == 1


@pytest.mark.parametrize(
    "text",
    [
        "Artikel;Anzahl verkauft\nRope Store;3\n",
        "Artikel;Stk.\nRope Store;3\n",
        "Verkäufe, Freitag\n\nBezeichnung;Verkaufte Menge;Preis\nRope Store;3;12,00\n",
        "Friday\nDrink name,Total Qty Sold\nRope Store,3\n",
    ],
)
def test_heads_of_several_words_and_titles_above_them_are_read(text: str, tmp_path: Path) -> None:
    (tmp_path / "s.csv").write_text(text, encoding="utf-8")
    (line,) = read_sales(tmp_path / "s.csv").lines
    assert (line.name, line.number) == ("Rope Store", 3)


def test_columns_are_read_as_somebody_says(root: Path) -> None:
    (root / "s.csv").write_text("Was,Wieviel\nRope Store,3\n", encoding="utf-8")
    line = ("sold", str(root / "s.csv"))
    refused = run(root, *line)
    assert refused.exit_code == 2
    assert "--column drink=" in refused.stderr
    missing = run(root, *line, "--column", "drink=Was", "--column", "sold=Viel")
    assert missing.exit_code == 2
    assert "no line has the heading 'viel'" in missing.stderr
    said = run(root, *line, "--column", "drink=Was", "--column", "sold=wieviel")
    assert said.exit_code == 0, said.stderr
    assert "Read 'Was' as drinks and 'Wieviel' as how many." in said.stdout


@pytest.mark.parametrize(
    "text",
    [
        "Item,Qty Sold,Refunds\nRope Store,12,2\n",
        "Artikel;Anzahl;Storniert\nRope Store;12;1\n",
        "Item,Qty,Status\nRope Store,12,Sold\nRope Store,1,VOID\n",
    ],
)
def test_what_was_taken_back_in_another_column_is_asked_for(text: str, root: Path) -> None:
    (root / "s.csv").write_text(text, encoding="utf-8")
    refused = run(root, "sold", str(root / "s.csv"))
    assert refused.exit_code == 2
    assert "taken back" in refused.stderr
    heading = text.splitlines()[0].replace(";", ",").split(",")[1]
    said = run(root, "sold", str(root / "s.csv"), "--column", f"sold={heading}")
    assert said.exit_code == 0, said.stderr


def test_a_column_of_refunds_without_any_is_no_question(tmp_path: Path) -> None:
    text = "Item,Qty Sold,Refunds\nRope Store,12,0\nRope Store,1,\n"
    (tmp_path / "s.csv").write_text(text, encoding="utf-8")
    assert read_sales(tmp_path / "s.csv").lines[0].number == 13


def test_what_has_a_minus_is_told(root: Path) -> None:
    (root / "s.csv").write_text("Item,Qty\nRope Store,5\nRope Store,-1\n", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"))
    assert "4 drinks sold" in result.stdout
    assert "Taken back with a minus: 1 drink." in result.stdout


def test_blank_lines_and_separators_make_no_other_file(root: Path) -> None:
    (root / "s.csv").write_text("drink,sold\nRope Store,2\n", encoding="utf-8")
    (root / "t.csv").write_text("drink;sold\n\nRope Store;2\n\n\n", encoding="utf-8")
    assert run(root, "sold", str(root / "s.csv")).exit_code == 0
    again = run(root, "sold", str(root / "t.csv"))
    assert again.exit_code == 2
    assert "taken off already" in again.stderr


@pytest.mark.parametrize(
    ("heads", "asked", "column"),
    [
        ("Drink,Sold,Sold", "columns 'Sold' and 'Sold' are alike", None),
        ("Drink,SOLD, sold ", "are alike", None),
        ("Drink,Net Sold,Total Sold", "--column 'sold=Net Sold'", "sold=Total Sold"),
        ("Item,Item,Sold", "columns 'Item' and 'Item' are alike", None),
    ],
)
def test_columns_that_are_alike_are_asked_for(
    heads: str, asked: str, column: str | None, root: Path
) -> None:
    row = "Rope Store,Rope Store,2" if heads.startswith("Item") else "Rope Store,1,2"
    (root / "s.csv").write_text(f"{heads}\n{row}\n", encoding="utf-8")
    line = ("sold", str(root / "s.csv"))
    refused = run(root, *line)
    assert refused.exit_code == 2
    assert asked in refused.stderr
    assert "s.csv, line 1" in refused.stderr
    assert not (root / "stock-log.csv").exists()
    told = column or f"sold={heads.split(',')[1].strip()}"
    said = run(root, *line, "--column", told)
    assert said.exit_code == (0 if column else 2)
    assert "2 drinks sold" in said.stdout or not column


def test_columns_without_headings_are_told_by_their_places(root: Path) -> None:
    (root / "s.csv").write_text("3,Harbour Light\n", encoding="utf-8")
    said = run(root, "sold", str(root / "s.csv"), "--dry-run")
    assert "No line has headings: read column 2 as drinks and column 1 as how many." in said.stdout
    document = json.loads(run(root, "sold", str(root / "s.csv"), "--dry-run", "--json").stdout)
    assert document["columns"] == {"drink": "column 2", "sold": "column 1"}


def test_a_dry_run_writes_nothing(root: Path) -> None:
    (root / "s.csv").write_text("Drink,Sold\nHarbour Light,3\n", encoding="utf-8")
    before = (root / "shelf.csv").read_bytes()
    said = run(root, "sold", str(root / "s.csv"), "--dry-run")
    assert said.exit_code == 0
    assert "Nothing was written" in said.stdout
    assert "stock undo" not in said.stdout
    assert (root / "shelf.csv").read_bytes() == before
    assert not (root / "stock-log.csv").exists()
    assert run(root, "sold", str(root / "s.csv")).exit_code == 0
