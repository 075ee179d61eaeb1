"""Stock that moves: what a night pours comes off, the log says so, and undo puts it back."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.serve import one_serve
from solver.errors import BadInput
from solver.pantry.bar import Bar, load_bar
from solver.pantry.spec import read_specs
from solver.tasks.stock.counting import came_in, counted, opened, went_out
from solver.tasks.stock.movement import Movement, log_of
from solver.tasks.stock.sales import sold
from solver.tasks.stock.sales_file import SalesFile, SoldLine, read_sales
from solver.tasks.stock.undo import undone

DEMO = Path(__file__).parents[2] / "demo"
SPECS = read_specs(DEMO / "specs")


@contextmanager
def copied() -> Iterator[Path]:
    with TemporaryDirectory() as folder:
        root = Path(folder) / "bar"
        shutil.copytree(DEMO, root)
        yield root


@pytest.fixture
def root() -> Iterator[Path]:
    with copied() as found:
        yield found


def write(found: Movement | None, bar: Bar) -> None:
    if found is not None:
        with found.prepared(bar) as put:
            put()


def on_hand(root: Path) -> dict[str, float | None]:
    shelf = load_bar(root).shelf
    assert shelf is not None
    return {row.ingredient.key: row.on_hand for row in shelf.rows}


def sales(numbers: dict[str, float], name: str = "sales.csv") -> SalesFile:
    lines = tuple(SoldLine(drink, number, 1) for drink, number in numbers.items())
    return SalesFile(Path(name), lines, (), name)


def run(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, ["stock", *line, "--bar", str(root)])


NIGHTS = st.dictionaries(st.sampled_from([spec.name for spec in SPECS]), st.integers(1, 12))


@settings(max_examples=10, deadline=None)
@given(night=NIGHTS.filter(bool))
def test_sales_take_what_pouring_drink_by_drink_takes(night: dict[str, int]) -> None:
    with copied() as root:
        bar = load_bar(root)
        left = {key: there for key, there in on_hand(root).items() if there is not None}
        for spec in SPECS:
            for _ in range(night.get(spec.name, 0)):
                for key, amount in one_serve(spec, bar).amounts.items():
                    if key in left:
                        left[key] = max(0.0, left[key] - amount)
        write(sold(sales(dict(night)), bar, run_out=True).movement, bar)
        now = on_hand(root)
        for key, amount in left.items():
            assert now[key] == pytest.approx(amount, abs=0.06), key
            assert (now[key] or 0.0) >= 0


MOVES = st.one_of(
    st.tuples(st.just("in"), st.integers(1, 900)),
    st.tuples(st.just("out"), st.integers(1, 900)),
    st.tuples(st.just("count"), st.integers(0, 900)),
    st.tuples(st.just("sold"), st.integers(1, 9)),
    st.tuples(st.just("open"), st.integers(0, 3)),
)


@settings(max_examples=6, deadline=None)
@given(moves=st.lists(MOVES, min_size=1, max_size=4))
def test_undoing_everything_restores_the_shelf_letter_for_letter(
    moves: list[tuple[str, int]],
) -> None:
    with copied() as root:
        before = (root / "shelf.csv").read_bytes()
        done = 0
        for at, (what, number) in enumerate(moves):
            bar = load_bar(root)
            try:
                write(_moved(what, number, at, bar), bar)
                done += 1
            except BadInput:  # nothing would change, or there is not so much
                continue
        for _ in range(done):
            bar = load_bar(root)
            write(undone(None, bar, bar.today), bar)
        assert (root / "shelf.csv").read_bytes() == before
        log = log_of(load_bar(root))
        assert len(log.entries) == 2 * done
        assert log.latest is None


def _moved(what: str, number: int, at: int, bar: Bar) -> Movement | None:
    match what:
        case "in":
            return came_in("rye-whiskey", f"{number} ml", bar, bar.today, price="31")
        case "out":
            return went_out("rye-whiskey", f"{number} ml", bar, bar.today)
        case "count":
            return counted("rye-whiskey", f"{number} ml", bar, bar.today)
        case "open":
            return opened("rye-whiskey", bar, bar.today.replace(day=1 + number))
    return sold(sales({"Harbour Light": number}, f"{at}.csv"), bar, run_out=True).movement


def test_what_moved_since_is_corrected_by_the_difference(root: Path) -> None:
    assert run(root, "in", "gin", "1", "bottle").exit_code == 0
    assert run(root, "out", "gin", "300 ml", "--because", "broken").exit_code == 0
    assert run(root, "undo", "1").exit_code == 0
    assert on_hand(root)["gin"] == pytest.approx(2 * 700 - 300, abs=0.1)


def test_what_was_counted_since_is_not_undone(root: Path) -> None:
    run(root, "in", "gin", "1 bottle")
    run(root, "count", "gin", "0.7 bottles")
    before = (root / "shelf.csv").read_bytes()
    result = run(root, "undo", "1")
    assert result.exit_code == 2
    assert "entry 2 counted it" in result.stderr
    assert (root / "shelf.csv").read_bytes() == before


def test_something_new_on_the_shelf_goes_again(root: Path) -> None:
    before = on_hand(root)
    line = ("in", "whole-limes", "40 pieces", "--bottle", "1 piece", "--price", "0.35")
    assert run(root, *line).exit_code == 0
    assert on_hand(root)["whole-limes"] == 3200
    assert run(root, "undo").exit_code == 0
    assert on_hand(root) == before
    assert run(root, "undo", "2").exit_code == 0  # and comes back
    assert on_hand(root)["whole-limes"] == 3200


def test_more_than_there_is_takes_a_word(root: Path) -> None:
    (root / "many.csv").write_text("drink,sold\nHarbour Light,90\n", encoding="utf-8")
    before = (root / "shelf.csv").read_bytes()
    refused = run(root, "sold", str(root / "many.csv"))
    assert refused.exit_code == 2
    assert "rye-whiskey (5400 mL poured, 910 there)" in refused.stderr
    assert (root / "shelf.csv").read_bytes() == before
    assert run(root, "sold", str(root / "many.csv"), "--run-out").exit_code == 0
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


TOMORROW = "2026-05-09"
"""Of the demonstration, whose today is the day before."""


@pytest.mark.parametrize(
    "line",
    [
        ("in", "gin", "1 bottle"),
        ("out", "gin", "10 ml"),
        ("count", "gin", "1 bottle"),
        ("open", "gin"),
        ("sold", "sales.csv", "--skip", "Coat check (invented)"),
        ("undo",),
    ],
)
def test_what_is_still_to_come_was_not_done(
    line: tuple[str, ...], root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(root)
    run(root, "in", "rye-whiskey", "1 bottle")
    before = (root / "shelf.csv").read_bytes()
    result = run(root, *line, "--on", TOMORROW)
    assert result.exit_code == 2
    said = f"the day {TOMORROW} is still to come"
    assert said in result.stderr
    assert "today is 2026-05-08, as bar.toml says" in result.stderr
    assert (root / "shelf.csv").read_bytes() == before
    assert run(root, *line, "--on", "2026-05-07").exit_code == 0


def test_sales_of_a_day_to_come_are_refused_with_their_file(root: Path) -> None:
    text = f"drink,sold,date\nHarbour Light,1,{TOMORROW}\n"
    (root / "s.csv").write_text(text, encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"))
    assert result.exit_code == 2
    assert f"the day {TOMORROW} is still to come" in result.stderr
    assert "s.csv" in result.stderr
    assert run(root, "sold", str(root / "s.csv"), "--on", "2026-05-08").exit_code == 0


def test_a_batch_of_a_day_to_come_was_not_made(root: Path) -> None:
    line = ["batch", "weighbridge", "--serves", "3", "--bar", str(root), "--made"]
    refused = CliRunner().invoke(main, [*line, TOMORROW])
    assert refused.exit_code == 2
    assert f"the day {TOMORROW} is still to come" in refused.stderr
    assert CliRunner().invoke(main, [*line, "2026-05-08"]).exit_code == 0


@pytest.mark.parametrize("text", ["Coat check;3\n", "Coat check;3\nDry Dock;2\nDRY-DOCK;-2\n"])
def test_where_no_drink_was_sold_that_is_said(text: str, root: Path) -> None:
    (root / "s.csv").write_text(f"drink;sold\n{text}", encoding="utf-8")
    result = run(root, "sold", str(root / "s.csv"), "--skip", "coat check")
    assert result.exit_code == 0, result.stderr
    assert result.stdout == "No drink was sold: nothing was written.\nLeft out: Coat check.\n"
    assert not (root / "stock-log.csv").exists()


def test_one_drink_and_one_bottle_are_said_as_one(root: Path) -> None:
    (root / "s.csv").write_text("drink;sold\nDry Dock;1\n", encoding="utf-8")
    assert run(root, "sold", str(root / "s.csv")).stdout.startswith("1 drink sold: 1 Dry Dock.")
    run(root, "in", "gin", "2 bottles")
    run(root, "out", "gin", "2.9 bottles")
    refused = run(root, "undo", "2")
    assert refused.exit_code == 2
    assert " left, less than it put in" in refused.stderr
    assert " are there" not in refused.stderr


def test_the_last_bottle_of_what_keeps_for_days_is_dated_when_it_is_begun(root: Path) -> None:
    shelf = root / "shelf.csv"
    old = "light-orange-bitter,1000 ml,15.90,1.6 bottles,2026-04-24"
    text = shelf.read_text(encoding="utf-8")
    assert old in text
    new = "light-orange-bitter,1000 ml,15.90,1 bottle,"
    shelf.write_text(text.replace(old, new), encoding="utf-8")
    bar = load_bar(root)
    found = sold(sales({"Low Water": 2}), bar)
    assert found.opened == ("light-orange-bitter",)
    write(found.movement, bar)
    row = load_bar(root).stocked("light-orange-bitter")
    assert row is not None
    assert row.opened == bar.today
    assert row.use_by is not None


def test_what_came_in_after_nothing_was_left_has_no_old_date(root: Path) -> None:
    run(root, "count", "dry-vermouth", "0 bottles")
    run(root, "in", "dry-vermouth", "2 bottles")
    row = load_bar(root).stocked("dry-vermouth")
    assert row is not None
    assert row.opened is None


def test_what_is_past_is_listed_with_what_it_was_worth(root: Path) -> None:
    (root / "bar.toml").write_text(
        (root / "bar.toml").read_text(encoding="utf-8").replace("2026-05-08", "2026-05-20"),
        encoding="utf-8",
    )
    text = run(root, "past").stdout
    assert text.startswith("Past its last day, and poured nowhere:")
    assert "lemon-juice" in text
    assert "18.72 EUR" in text


def test_a_spreadsheet_takes_nothing_in_the_log_for_a_formula(root: Path) -> None:
    run(root, "out", "gin", "10 ml", "--because", "=cmd|' /C calc'!A0")
    assert ",'=cmd" in (root / "stock-log.csv").read_text(encoding="utf-8")


def test_a_log_that_somebody_broke_is_refused_with_its_line(root: Path) -> None:
    run(root, "out", "gin", "10 ml")
    with (root / "stock-log.csv").open("a", encoding="utf-8") as log:
        log.write("two,2026-05-08,out,gin,on_hand,,,,,\n")
    result = run(root, "log")
    assert result.exit_code == 2
    assert "stock-log.csv, line 3" in result.stderr
