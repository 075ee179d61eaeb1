"""Stock that moves: what a night pours comes off, the log says so, and undo puts it back."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.serve import one_serve
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.library import load_library
from solver.pantry.load_bar import load_bar
from solver.pantry.on_hand import read_on_hand
from solver.pantry.spec import read_specs
from solver.pantry.stock_log import read_log
from solver.tasks.stock.counting import came_in, counted, opened, went_out
from solver.tasks.stock.movement import Movement, log_of
from solver.tasks.stock.sales import sold
from solver.tasks.stock.undo import undone
from tests.stock.bars import DEMO, copied, on_hand, run, sales, write

SPECS = read_specs(DEMO / "specs")


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


def test_limes_that_were_counted_get_their_price_by_the_piece(root: Path) -> None:
    assert run(root, "in", "20 limes").exit_code == 0
    assert run(root, "in", "12 limes", "--price", "0.35").exit_code == 0
    shelf = load_bar(root).shelf
    assert shelf is not None
    row = shelf.row("whole-limes")
    assert row is not None
    assert (row.bottle, row.price, row.on_hand) == (80, 0.35, 32 * 80)


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


def test_one_drink_and_one_bottle_are_said_as_one(root: Path) -> None:
    (root / "s.csv").write_text("drink;sold\nDry Dock;1\n", encoding="utf-8")
    assert run(root, "sold", str(root / "s.csv")).stdout.startswith("1 drink sold: 1 Dry Dock.")
    run(root, "in", "gin", "2 bottles")
    run(root, "out", "gin", "2.9 bottles")
    refused = run(root, "undo", "2")
    assert refused.exit_code == 2
    assert " left, less than it put in" in refused.stderr
    assert " are there" not in refused.stderr


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


def test_a_bottle_by_its_ounces_is_the_bottle_that_stands_there(root: Path) -> None:
    before = on_hand(root)["rye-whiskey"] or 0.0
    assert run(root, "in", "rye-whiskey", "2 bottles", "--bottle", "23.7 fl oz").exit_code == 0
    assert on_hand(root)["rye-whiskey"] == pytest.approx(before + 1400, abs=1)
    other = run(root, "in", "rye-whiskey", "2 bottles", "--bottle", "1 l")
    assert other.exit_code == 2
    assert "a bottle of rye-whiskey is 700 mL on the shelf" in other.stderr


def test_cases_and_sums_are_amounts(root: Path) -> None:
    shelf = root / "shelf.csv"
    head, *rows = shelf.read_text(encoding="utf-8").splitlines()
    commas = head.count(",")
    rows.append(f"cola,330 ml,1,0{',' * (commas - 3)},24")
    shelf.write_text("\n".join([f"{head},case", *rows]) + "\n", encoding="utf-8")
    assert run(root, "in", "cola", "2 cases").exit_code == 0
    assert on_hand(root)["cola"] == pytest.approx(48 * 330)
    assert run(root, "out", "2 bottles and 300 ml cola").exit_code == 0
    assert on_hand(root)["cola"] == pytest.approx(46 * 330 - 300)
    refused = run(root, "in", "gin", "1 case")
    assert refused.exit_code == 2
    assert "counts cases of unknown size" in refused.stderr


def test_several_entries_are_undone_at_once_or_refused_at_once(root: Path) -> None:
    before = on_hand(root)
    for amount in ("1 bottle", "2 bottles", "300 ml"):
        assert run(root, "in", "gin", amount).exit_code == 0
    refused = run(root, "undo", "2", "9")
    assert refused.exit_code == 2
    assert on_hand(root) != before
    assert run(root, "undo", "3", "1", "2").exit_code == 0
    assert on_hand(root) == before
    assert [entry.undoes for entry in read_log(root / "stock-log.csv").entries[3:]] == [3, 2, 1]


def test_several_entries_are_undone_all_or_none(root: Path) -> None:
    assert run(root, "in", "gin", "1 bottle").exit_code == 0
    assert run(root, "count", "gin", "2.5 bottles").exit_code == 0
    assert run(root, "in", "gin-old-tom", "1 bottle").exit_code == 0
    files = [root / "shelf.csv", root / "stock-log.csv"]
    before = [file.read_bytes() for file in files]
    refused = run(root, "undo", "3", "1")
    assert refused.exit_code == 2
    assert "entry 1 cannot be undone" in refused.stderr
    assert refused.stdout == ""
    assert [file.read_bytes() for file in files] == before
    assert run(root, "undo", "3", "1", "2").exit_code == 0  # what counted it since goes first


def test_a_price_that_is_what_it_was_is_no_news(root: Path) -> None:
    before = run(root, "in", "bourbon", "1 bottle", "--price", "27.9")
    assert before.exit_code == 0, before.stderr
    assert "price" not in before.stdout
    assert (
        "price 27.90 to 28.50" in run(root, "in", "bourbon", "1 bottle", "--price", "28.5").stdout
    )


def test_a_jar_of_honey_is_a_bottle_of_it() -> None:
    library = load_library()
    honey, gin = library.find("honey"), library.find("gin")
    measures = load_bar(DEMO).measures
    assert read_on_hand("2 jars", honey, 350.0, measures, library) == 700.0
    with pytest.raises(BadInput, match="not a unit known here"):
        read_on_hand("2 jars", gin, 700.0, measures, library)
