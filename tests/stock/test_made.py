"""What is made: one movement with what it took, beside what is there, and undone as one."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.errors import BadInput
from solver.pantry.dated_batches import Lot, read_lots, written_lots
from solver.pantry.load_bar import load_bar
from solver.pantry.stocked import Stocked
from solver.tasks.stock.movement import log_of
from solver.tasks.stock.pouring_order import left_after, with_batch
from tests.stock.bars import DEMO, copied, on_hand, run

DAYS = st.dates(date(2026, 4, 20), date(2026, 5, 20))
SYRUP = load_bar(DEMO).bottles.find("rhubarb-syrup")
LOTS = st.lists(st.tuples(st.integers(2, 5000), DAYS, st.integers(0, 30)), min_size=1, max_size=5)
NOW = date(2026, 5, 8)


def made(root: Path, *line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--stock", "--bar", str(root)])


def rows(root: Path) -> list[dict[str, str]]:
    with (root / "shelf.csv").open(encoding="utf-8", newline="") as file:
        return [{k: v for k, v in row.items() if v} for row in csv.DictReader(file)]


def shelved(lots: list[tuple[int, date, int]]) -> Stocked:
    """A row of some batches: amount, the day each was made, and for how long it keeps."""
    found: tuple[Stocked, ...] = ()
    for amount, day, days in lots:
        dated = day + timedelta(days=days)
        found = with_batch(found, Stocked(SYRUP, on_hand=amount, opened=day, dated=dated))
    first, *rest = found
    newer = tuple(Lot(lot.on_hand or 0.0, lot.opened, lot.dated) for lot in rest)
    return replace(first, on_hand=sum(lot.on_hand or 0.0 for lot in found), newer=newer)


@given(lots=LOTS)
def test_batches_stand_in_the_order_of_their_last_days_and_none_is_lost(
    lots: list[tuple[int, date, int]],
) -> None:
    row = shelved(lots)
    assert sum(lot.on_hand or 0.0 for lot in row.lots) == sum(amount for amount, _, _ in lots)
    last = [lot.use_by for lot in row.lots]
    assert last == sorted(last, key=lambda day: day or date.max)
    text = written_lots(row.newer, "ml")
    assert read_lots(text, lambda said: float(said.removesuffix(" ml"))) == row.newer


@given(lots=LOTS, share=st.floats(0, 1), day=DAYS)
def test_what_is_past_is_poured_last_and_of_the_rest_the_oldest_first(
    lots: list[tuple[int, date, int]], share: float, day: date
) -> None:
    row = shelved(lots)
    there = {(lot.opened, lot.dated): lot.on_hand or 0.0 for lot in row.lots}
    left = dict.fromkeys(there, 0.0)
    left |= {(lot.opened, lot.dated): lot.on_hand or 0.0 for lot in left_after(
        row, share * (row.on_hand or 0.0), day)}  # fmt: skip
    assert sum(left.values()) == pytest.approx((1 - share) * (row.on_hand or 0.0), abs=1e-3)
    order = sorted(row.lots, key=lambda lot: lot.past(day))
    touched = [left[lot.opened, lot.dated] < there[lot.opened, lot.dated] - 1e-6 for lot in order]
    emptied = [left[lot.opened, lot.dated] <= 1e-6 for lot in order]
    for at, begun in enumerate(touched):
        assert not begun or all(emptied[:at])


@given(lots=LOTS, day=DAYS)
def test_what_may_be_poured_is_what_is_not_past(
    lots: list[tuple[int, date, int]], day: date
) -> None:
    row = shelved(lots)
    good = row.good(day)
    fresh = sum(lot.on_hand or 0.0 for lot in row.lots if not lot.past(day))
    assert (good.on_hand if good else 0.0) == pytest.approx(fresh)
    assert good is None or not good.past(day)


def test_a_second_pot_stands_beside_the_first_and_undo_takes_all_of_it_back(root: Path) -> None:
    before = rows(root)
    house = root / "house" / "rhubarb-syrup.toml"
    text = house.read_bytes()
    result = made(root, "prep", "rhubarb-syrup", "--made", "2026-05-08")
    assert result.exit_code == 0, result.stderr
    assert "3200 mL made 2026-05-04, use by 2026-05-16" in result.stdout
    now = on_hand(root)
    assert now["rhubarb"] == pytest.approx(4000 - 2700, abs=0.1)
    assert now["white-sugar"] == pytest.approx(6000 - 1960, abs=0.1)
    assert now["rhubarb-syrup"] == pytest.approx(3200 + 3309, abs=1)
    assert house.read_bytes() != text
    assert run(root, "undo").exit_code == 0
    assert rows(root) == before
    assert house.read_bytes() == text
    assert run(root, "undo", "2").exit_code == 0  # and comes back
    assert on_hand(root) == now


def test_the_same_day_is_the_same_batch_unless_somebody_says_otherwise(root: Path) -> None:
    refused = made(root, "prep", "rhubarb-syrup")
    assert refused.exit_code == 2
    assert "rhubarb-syrup made 2026-05-04 is on the shelf already" in refused.stderr
    assert made(root, "batch", "weighbridge", "--serves", "2").exit_code == 0
    again = made(root, "batch", "weighbridge", "--serves", "2")
    assert again.exit_code == 2
    assert "equipour stock undo 1" in again.stderr
    assert made(root, "batch", "weighbridge", "--serves", "2", "--again").exit_code == 0
    row = load_bar(root).stocked("weighbridge-batch")
    assert row is not None
    assert len(row.lots) == 1
    assert row.on_hand == pytest.approx(541, abs=2)


def test_two_pots_and_what_came_in_between_are_undone_at_once(root: Path) -> None:
    before, house = rows(root), root / "house" / "rhubarb-syrup.toml"
    text = house.read_bytes()
    assert made(root, "prep", "rhubarb-syrup", "--made", "2026-05-07").exit_code == 0
    assert run(root, "in", "rhubarb", "3 kg").exit_code == 0
    again = made(root, "prep", "rhubarb-syrup", "--made", "2026-05-08")
    assert again.exit_code == 0, again.stderr
    undone = run(root, "undo", "1", "2", "3")
    assert undone.exit_code == 0, undone.stderr
    assert rows(root) == before
    assert house.read_bytes() == text
    assert [entry.undoes for entry in log_of(load_bar(root)).entries[3:]] == [3, 2, 1]


def test_a_batch_that_was_undone_is_not_there(root: Path) -> None:
    before = rows(root)
    assert made(root, "batch", "weighbridge", "--serves", "4").exit_code == 0
    assert load_bar(root).stocked("weighbridge-batch") is not None
    assert run(root, "undo").exit_code == 0
    assert rows(root) == before
    assert load_bar(root).stocked("weighbridge-batch") is None


def test_a_first_batch_is_undone_whatever_the_names_of_what_went_in(root: Path) -> None:
    recipe = (
        '[{0}]\nname = "{0}"\nkind = "syrup/spice"\n\n'
        '[{0}.recipe.inputs]\nwhite-sugar = "500 g"\nwater = "500 g"\n'
    )
    for name in ("a-first-syrup", "zz-last-syrup"):
        house = root / "house" / f"{name}.toml"
        house.write_text(recipe.format(name), encoding="utf-8")
        shelf, text = rows(root), house.read_bytes()
        result = made(root, "prep", name)
        assert result.exit_code == 0, result.stderr
        now = on_hand(root)
        undone = run(root, "undo")
        assert undone.exit_code == 0, undone.stderr
        assert (rows(root), house.read_bytes()) == (shelf, text)
        number = log_of(load_bar(root)).next_number - 1
        assert run(root, "undo", str(number)).exit_code == 0  # and comes back
        assert on_hand(root) == now


def test_figures_of_a_later_batch_stay_when_an_earlier_one_is_undone(root: Path) -> None:
    house = root / "house" / "rhubarb-syrup.toml"
    made(root, "prep", "rhubarb-syrup", "--made", "2026-05-07", "--make", "0.3x")
    text = house.read_text(encoding="utf-8")
    house.write_text(text.replace('weight = "4080 g"', 'weight = "4200 g"'), encoding="utf-8")
    made(root, "prep", "rhubarb-syrup", "--made", "2026-05-08", "--make", "0.3x")
    later = load_bar(root).bottles.find("rhubarb-syrup").sugar
    assert run(root, "undo", "1").exit_code == 2  # its row has a newer batch
    assert load_bar(root).bottles.find("rhubarb-syrup").sugar == later


def test_more_than_there_is_goes_into_no_pot(root: Path) -> None:
    before = (root / "shelf.csv").read_bytes()
    refused = made(root, "prep", "rhubarb-syrup", "--made", "2026-05-08", "--make", "2x")
    assert refused.exit_code == 2
    assert "5400 g are needed, 4000 are there" in refused.stderr
    assert "equipour stock count rhubarb AMOUNT" in refused.stderr
    assert (root / "shelf.csv").read_bytes() == before
    assert not (root / "stock-log.csv").exists()


def test_a_past_batch_is_listed_and_only_the_good_one_is_poured(root: Path) -> None:
    made(root, "prep", "rhubarb-syrup", "--made", "2026-05-08")
    late = load_bar(root, date(2026, 5, 18))
    row = late.stocked("rhubarb-syrup")
    assert row is not None
    assert row.on_hand == pytest.approx(3309, abs=1)
    past = [lot.on_hand for lot in late.past_lots if not lot.by_bottle]
    assert past == [pytest.approx(3200, abs=1)]
    assert late.past_row("rhubarb-syrup") is None
    text = (root / "bar.toml").read_text(encoding="utf-8")
    later = text.replace("today = 2026-05-08", "today = 2026-05-18")
    (root / "bar.toml").write_text(later, encoding="utf-8")
    assert "rhubarb-syrup                   2026-05-16      3200 mL" in run(root, "past").stdout
    out = run(root, "out", "rhubarb-syrup", "3200 ml", "--because", "spoiled")
    assert out.exit_code == 0
    assert not [lot for lot in load_bar(root).past_lots if not lot.by_bottle]


@pytest.mark.parametrize(
    ("cells", "says"),
    [
        ({"newer": "900 ml sometime"}, "newer: "),
        ({"newer": "900 ml made 2026-05-07", "on_hand": ""}, "nobody has counted"),
        ({"opened": "2026-05-09"}, "the day 2026-05-09 is still to come"),
        ({"newer": "900 ml made 2027-05-09"}, "the day 2027-05-09 is still to come"),
    ],
)
def test_what_cannot_be_is_said_with_its_line(cells: dict[str, str], says: str, root: Path) -> None:
    found = rows(root)
    at = next(i for i, row in enumerate(found) if row["ingredient"] == "rhubarb-syrup")
    found[at] |= cells
    columns = list(dict.fromkeys(name for row in found for name in row))
    with (root / "shelf.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, columns)
        writer.writeheader()
        writer.writerows(found)
    with pytest.raises(BadInput, match=says) as refused:
        load_bar(root)
    assert refused.value.where is not None
    assert refused.value.where.line == at + 2


def test_a_recipe_made_on_a_day_to_come_is_refused_with_its_line(root: Path) -> None:
    house = root / "house" / "rhubarb-syrup.toml"
    text = house.read_text(encoding="utf-8")
    house.write_text(text.replace("made = 2026-05-04", "made = 2026-06-04"), encoding="utf-8")
    with pytest.raises(BadInput, match="the day 2026-06-04 is still to come") as refused:
        load_bar(root)
    assert refused.value.where is not None
    assert refused.value.where.source == house


@settings(max_examples=5, deadline=None)
@given(serves=st.integers(1, 5), drunk=st.integers(1, 7))
def test_a_sold_drink_comes_from_its_batch_as_far_as_that_goes(serves: int, drunk: int) -> None:
    from solver.tasks.stock.sales import sold
    from tests.stock.bars import copied, sales, write

    with copied() as root:
        made(root, "batch", "harbour-light", "--serves", str(serves))
        before, bar = on_hand(root), load_bar(root)
        found = sold(sales({"Harbour Light": drunk}), bar)
        write(found.movement, bar)
        now = on_hand(root)
        (batch,) = found.batches
        poured = min(serves, drunk)
        assert batch.number == poured

        def less(key: str) -> float:
            return (before[key] or 0.0) - (now[key] or 0.0)

        assert less("harbour-light-batch") == pytest.approx(poured * 82.4, abs=0.5 * poured + 0.5)
        assert less("rye-whiskey") == pytest.approx(60 * (drunk - poured), abs=0.2)
        assert less("lemon-juice") == pytest.approx(22.5 * drunk, abs=0.2)
        if drunk >= serves:
            assert now["harbour-light-batch"] == 0
        log = log_of(bar)
        assert [entry.what for entry in log.entries] == ["made", "sold"]


def test_a_batch_past_its_day_or_not_yet_made_gives_nothing(root: Path) -> None:
    made(root, "batch", "weighbridge", "--serves", "3")
    (root / "s.csv").write_text("drink,sold\nWeighbridge,2\n", encoding="utf-8")
    early = run(root, "sold", str(root / "s.csv"), "--on", "2026-05-07", "--json")
    assert '"from_batches": []' in early.stdout
    assert run(root, "undo").exit_code == 0
    text = (root / "bar.toml").read_text(encoding="utf-8")
    (root / "bar.toml").write_text(text.replace("2026-05-08", "2026-05-30"), encoding="utf-8")
    late = run(root, "sold", str(root / "s.csv"))
    assert "weighbridge-batch is past its last day, 2026-05-22: taken from bottles." in late.stdout
    assert on_hand(root)["aged-rum"] == pytest.approx(770 - 5 * 60, abs=0.1)


@pytest.mark.parametrize("words", [("limes", "12"), ("12 limes",), ("lime", "12", "pieces")])
def test_limes_are_counted_by_the_piece_in_everyday_words(
    words: tuple[str, ...], root: Path
) -> None:
    assert run(root, "in", *words).exit_code == 0
    assert "whole-limes,,,12 pieces" in (root / "shelf.csv").read_text(encoding="utf-8")
    assert on_hand(root)["whole-limes"] == 12 * 80  # USDA, from memory: see ingredients/raw.toml
    result = run(root, "count", "9", "limes")
    assert "12 pieces to 9 pieces: 3 pieces less than expected" in result.stdout


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("limes",), "how much of whole limes is not said"),
        (("12",), "nothing says what there is so much of"),
        (("2", "crowbars"), "'crowbars' is not an ingredient"),
        (("gin", "12"), "'12' has no unit"),
    ],
)
def test_what_cannot_be_counted_says_why(words: tuple[str, ...], says: str, root: Path) -> None:
    result = run(root, "in", *words)
    assert result.exit_code == 2
    assert says in result.stderr
    assert not (root / "stock-log.csv").exists()


def test_what_the_house_makes_is_not_counted_in_but_made() -> None:
    with copied() as root:
        short = made(root, "batch", "harbour-light", "--serves", "400")
        assert short.exit_code == 2
        said = " ".join(short.stderr.split())
        assert "Once more is made: equipour prep rhubarb-syrup --stock" in said
        assert "equipour prep gin" not in said
