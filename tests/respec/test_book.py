"""The whole spec book after a change."""

from __future__ import annotations

import datetime
import shutil
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from solver.clock import Clock, Done, Work
from solver.drinks.assess import assess
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import find_spec
from solver.pantry.spec_file import write_spec
from solver.search.milp.cpsat import CpSat
from solver.show.text.rebalanced_book import book_csv, book_text
from solver.tasks.respec.bar_changes import BarChanges, read_changes
from solver.tasks.respec.book import Book, BookEntry, State, apply, rebalance_book
from solver.tasks.respec.outdated_recipes import unstocked
from tests.files.faults import Fault, faulty
from tests.respec.specs import DEMO, approved_as, beyond, poured

TODAY = datetime.date(2026, 5, 8)


@pytest.fixture
def bar(tmp_path: Path) -> Bar:
    shutil.copytree(DEMO, tmp_path / "demo")
    return load_bar(tmp_path / "demo")


def book_of(
    bar: Bar,
    *figures: str,
    gone: tuple[str, ...] = (),
    glasses: tuple[str, ...] = (),
    clock: Clock | None = None,
) -> Book:
    return rebalance_book(bar, read_changes(figures, gone, glasses, bar), CpSat(), clock)


def states(book: Book) -> dict[str, str]:
    return {entry.spec.name: entry.state.value for entry in book.entries}


def entry(book: Book, name: str) -> BookEntry:
    return next(each for each in book.entries if each.spec.name == name)


def test_without_news_only_what_was_approved_is_held_to_that(bar: Bar) -> None:
    found = states(book_of(bar))
    assert found.pop("Harbour Light") == "nearly the same"
    assert found.pop("Pilot Cutter") == "re-balanced"
    assert set(found.values()) == {"never approved"}


def test_a_weaker_juice_is_poured_more_of_and_the_drink_stays(bar: Bar) -> None:
    book = book_of(bar, "lemon-juice.acid=4 g/100ml")
    assert states(book)["Dry Dock"] == "re-balanced"
    assert states(book)["Last Ferry"] == "not concerned"
    result = entry(book, "Dry Dock").result
    assert result is not None
    assert result.held
    weaker = book.changes.at(bar)
    assert beyond(result, weaker) == set()
    assert poured(result.after)["lemon-juice"] > poured(result.before)["lemon-juice"]
    old = assess(entry(book, "Dry Dock").spec, bar)
    assert [aim.value for aim in result.kept.aims][2] == old.values["acid"]


def test_what_nobody_would_notice_is_left_alone(bar: Bar) -> None:
    book = book_of(bar, "lemon-juice.acid=5.8 g/100ml", "bourbon.abv=45.3%")
    assert states(book)["Dry Dock"] == "unchanged"
    assert states(book)["Rope Store"] == "unchanged"


def test_what_is_out_is_replaced_and_never_by_what_is_out_too(bar: Bar) -> None:
    one = entry(book_of(bar, gone=("bourbon",)), "Rope Store").result
    assert set(poured(one.after if one else None)) >= {"rye-whiskey"}
    both = entry(book_of(bar, gone=("bourbon", "rye-whiskey")), "Rope Store").result
    assert both is not None
    assert {"bourbon", "rye-whiskey"}.isdisjoint(poured(both.after))


@pytest.mark.parametrize(
    ("gone", "text"),
    [
        ("absinthe", 'steps = ["Rinse the glass with absinthe."]'),
        ("whole-lemons", ""),  # the garnish of Dry Dock
        ("nutmeg", 'notes = "Invented. Nutmeg over the foam."'),
    ],
)
def test_what_is_out_and_only_named_is_left_to_whoever_wrote_it(
    gone: str, text: str, bar: Bar
) -> None:
    spec = DEMO / "specs" / "dry-dock.toml"
    kept = [line for line in spec.read_text("utf-8").splitlines() if not line.startswith("notes")]
    assert bar.root is not None
    written = "\n".join([text, *kept])
    (bar.root / "specs" / "dry-dock.toml").write_text(written, "utf-8")
    book = book_of(bar, gone=(gone,))
    found = entry(book, "Dry Dock")
    assert (found.state, [item.key for item in found.named]) == (State.BY_HAND, [gone])
    name = found.named[0].name
    assert f"its garnish, steps or notes name {name}: change that by hand" in book_text(book, bar)
    assert states(book)["Last Ferry"] == "not concerned"
    assert book_csv(book, bar).splitlines()[1].endswith(gone)


def test_two_bottles_of_one_drink_may_be_out_at_once(bar: Bar) -> None:
    result = entry(book_of(bar, gone=("aged-rum", "amaro")), "Weighbridge").result
    assert result is not None
    pours = poured(result.after)
    assert {"aged-rum", "amaro"}.isdisjoint(pours)
    assert {"sweet-vermouth", "orange-bitters"} <= set(pours)
    assert len(pours) == 4
    assert {met.aim.measure.name for met in result.moved} == beyond(result, bar)


def test_nothing_to_stand_in_is_a_drink_that_cannot_be_saved(bar: Bar) -> None:
    lost = entry(book_of(bar, gone=("heavy-cream",)), "Last Ferry")
    assert (lost.state, lost.result) == (State.LOST, None)


def test_a_smaller_glass_concerns_what_is_served_in_it(bar: Bar) -> None:
    book = book_of(bar, glasses=("coupe=150 ml",))
    concerned = {name for name, state in states(book).items() if state != "not concerned"}
    assert concerned == {"Dry Dock", "Harbour Light", "Weighbridge"}
    for each in book.entries:
        if each.state is State.REBALANCED and each.result and each.result.after:
            assert (each.result.after.values["volume"] or 0.0) <= 150.0 * (1 + 1e-9)


def test_progress_is_told_of_every_spec(bar: Bar) -> None:
    told: list[Done | None] = []
    book_of(bar, "lemon-juice.acid=4 g/100ml", clock=Clock.of(60, told.append))
    assert told == [Done(Work.ITEMS, done, 7) for done in range(7)]


def test_applied_specs_are_read_back_as_the_same_drinks(bar: Bar) -> None:
    book = book_of(bar, "lemon-juice.acid=4 g/100ml", gone=("bourbon",))
    before = {path: path.read_bytes() for path in (DEMO / "specs").iterdir()}
    written = {path.name for path in apply(book, bar)}
    assert written == {"dry-dock.toml", "rope-store.toml"}
    now = book.changes.at(bar)
    for each in book.of(State.REBALANCED):
        assert each.result is not None
        again = assess(find_spec(each.spec.name, bar.specs), now)
        assert each.result.after is not None
        assert again.values == pytest.approx(each.result.after.values)
    assert bar.specs is not None
    for path, content in before.items():
        same = (bar.specs / path.name).read_bytes() == content
        assert same == (path.name not in written)


def test_a_book_that_was_applied_needs_nothing_more(bar: Bar) -> None:
    dock = find_spec("dry-dock", bar.specs)
    assert dock.place is not None
    approved = approved_as(assess(dock, bar))
    write_spec(dock.model_copy(update={"approved": approved}), dock.place, bar.root)
    book = book_of(bar, "lemon-juice.acid=4 g/100ml")
    now = book.changes.at(bar)
    assert states(book_of(now))["Dry Dock"] == "re-balanced"
    apply(book, bar)
    assert states(book_of(now))["Dry Dock"] == "unchanged"


def test_all_specs_are_written_or_none(bar: Bar) -> None:
    book = book_of(bar, "lemon-juice.acid=4 g/100ml", gone=("bourbon",))
    assert bar.specs is not None
    before = {path: path.read_bytes() for path in bar.specs.iterdir()}
    with faulty() as counted:
        counted.at, counted.fault = 5, Fault.FULL
        with pytest.raises(BadInput, match="no space left"):
            apply(book, bar)
    assert {path: path.read_bytes() for path in bar.specs.iterdir()} == before


@pytest.mark.parametrize(
    ("figures", "gone", "glasses", "says"),
    [
        (("rye-whiskey=45%",), (), (), "does not set a figure"),
        (("rye-whiskey.abv",), (), (), "does not set a figure"),
        (("rye-whiskey.proof=90",), (), (), "does not set a figure"),
        (("rye-whiskey.abu=45%",), (), (), "Did you mean abv"),
        (("rye-whiskey.abv=450%",), (), (), "450"),
        (("rye-whiskey.abv=45%", "rye-whiskey.abv=46%"), (), (), "second time"),
        (("moonshine.abv=45%",), (), (), "not an ingredient known here"),
        (("demerara-sugar.sugar=90 g/100ml",), (), (), "it is weighed"),
        ((), ("moonshine",), (), "not an ingredient known here"),
        ((), (), ("coup=150 ml",), "Did you mean coupe"),
        ((), (), ("coupe",), "does not say how much"),
        ((), (), ("coupe=0 ml",), "holds nothing"),
        ((), (), ("coupe=4%",), "4%"),
    ],
)
def test_news_that_cannot_be_read_is_one_sentence(
    bar: Bar, figures: tuple[str, ...], gone: tuple[str, ...], glasses: tuple[str, ...], says: str
) -> None:
    with pytest.raises(BadInput) as caught:
        read_changes(figures, gone, glasses, bar)
    assert says in str(caught.value)


def test_a_figure_may_be_set_of_what_only_the_library_has(bar: Bar) -> None:
    bare = replace(bar, stock=())
    changes = read_changes(("bourbon.abv=40%",), (), (), bare)
    assert changes.at(bare).bottles.find("bourbon").abv.value == 40.0


def test_a_spec_that_cannot_be_read_stops_everything_with_its_line(bar: Bar) -> None:
    assert bar.specs is not None
    path = bar.specs / "dry-dock.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('"lemon-juice"', '"moonshine"'), encoding="utf-8")
    line = text[: text.index('"lemon-juice"')].count("\n") + 1
    with pytest.raises(BadInput, match=f"dry-dock.toml, line {line}"):
        book_of(bar)
    assert tomllib.loads(text)["name"] == "Dry Dock"


def test_without_a_bar_there_is_no_book() -> None:
    built_in = load_bar(None)
    with pytest.raises(BadInput, match="no bar with a spec book"):
        rebalance_book(built_in, BarChanges(), CpSat())


def with_row(bar: Bar, old: str, new: str) -> Bar:
    """The bar with one change in its shelf."""
    assert bar.root is not None
    shelf = bar.root / "shelf.csv"
    text = shelf.read_text(encoding="utf-8")
    assert old in text
    shelf.write_text(text.replace(old, new), encoding="utf-8")
    return load_bar(bar.root)


@pytest.mark.parametrize("left", ["0 bottles", "30 ml"])
def test_a_bottle_that_is_too_empty_for_one_drink_is_out(bar: Bar, left: str) -> None:
    bar = with_row(bar, "bourbon,700 ml,27.90,2.2 bottles", f"bourbon,700 ml,27.90,{left}")
    found = entry(book_of(bar), "Rope Store")
    assert [item.key for item in found.out] == ["bourbon"]
    assert found.state is State.REBALANCED
    assert found.result is not None
    assert found.result.after is not None
    assert "bourbon" not in poured(found.result.after)
    assert "Rope Store: no bourbon whiskey left" in book_text(book_of(bar), bar)


def test_an_edited_recipe_is_told_of_before_a_batch_is_in_stock(bar: Bar) -> None:
    assert bar.root is not None
    assert unstocked(bar, TODAY) == ()
    path = bar.root / "house" / "rhubarb-syrup.toml"
    sweeter = path.read_text(encoding="utf-8").replace('"1960 g"', '"2600 g"')
    weighed = [line for line in sweeter.splitlines() if not line.startswith(("weight", "brix"))]
    path.write_text("\n".join(weighed), encoding="utf-8")
    bar = load_bar(bar.root)
    (found,) = unstocked(bar, TODAY)
    assert found.key == "rhubarb-syrup"
    assert {each.spec for each in found.impacts} == {"Dry Dock", "Harbour Light"}
    said = " ".join(book_text(book_of(bar), bar, (found,)).split())
    assert "`equipour prep rhubarb-syrup --stock`" in said
    assert "Harbour Light (sugar " in said


def test_a_recipe_that_cannot_be_followed_is_told_of_and_stops_nothing(bar: Bar) -> None:
    assert bar.root is not None
    path = bar.root / "house" / "rhubarb-syrup.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"1960 g"', '"2600 g"'))
    (found,) = unstocked(load_bar(bar.root), TODAY)
    assert "cannot be followed" in book_text(book_of(bar), bar, (found,))
