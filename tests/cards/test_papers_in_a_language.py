"""Papers are in the language of the bar, all of their words: terminals are not."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.drinks.assess import assess
from solver.drinks.card import Reader, card_of
from solver.drinks.mixed_ahead import MixedAhead
from solver.mixture.melt import TECHNIQUES
from solver.pantry.defaults import load_defaults
from solver.pantry.disclosure import LESS
from solver.pantry.load_bar import load_bar
from solver.pantry.plan_file import find_plan, read_coming
from solver.pantry.spec import read_specs
from solver.pantry.vocabulary import ALLERGENS, ANIMAL_ORIGINS, DECLARATIONS
from solver.show.pages.batch_label import batch_label, batch_labels
from solver.show.pages.card.html import cards_html
from solver.show.pages.card.page import page_of
from solver.show.pages.label import label_text
from solver.show.pages.pdf import printed
from solver.show.pages.plan.page import plan_page
from solver.show.pages.plan.paper import labels
from solver.show.pages.plan.workbook import plan_workbook
from solver.show.pages.prep_label import prep_label
from solver.show.text.set_aside import batches_said
from solver.show.words import languages, words_for, words_of
from solver.tasks.batch import batch_of, read_size
from solver.tasks.plan.answer import Plan
from solver.tasks.prep.house_recipes import house_of
from solver.tasks.prep.prepare import prepare
from solver.tasks.prep.shelf_life import ALWAYS
from tests.cards.marked import marked_words, outside, texts_of
from tests.open_bars import OPEN
from tests.plan.bars import planned

DEMO = Path(__file__).parents[2] / "demo"
BAR = load_bar(DEMO)
SPECS = read_specs(BAR.specs)
OTHERS = [each for each in languages() if each != "en"]


@cache
def weekend() -> Plan:
    return planned(read_coming(find_plan("weekend", BAR), BAR), BAR)


def own_words() -> list[str]:
    """What the demonstration bar wrote itself, and no table translates."""
    garnishes = [spec.garnish for spec in SPECS if spec.garnish]
    vessels = [each.name for each in BAR.vessels]
    suppliers = [order.supply.supplier for order in weekend().orders if order.supply.supplier]
    name = weekend().question.coming.name
    return [BAR.name, name, *(spec.name for spec in SPECS), *garnishes, *vessels, *suppliers]


def plans() -> Iterator[Plan]:
    """The weekend; and the same with everything in it that it happens not to have."""
    plan = weekend()
    yield plan
    first, *others = plan.evenings
    (most, count), (second, few), *_ = first.drinks
    mixed = replace(first, ice_kg=0.0, from_batch={most.name: count, second.name: few - 1})
    jobs = [
        replace(job, vessel=job.vessel and replace(job.vessel, **use), use_by=None)
        for job, use in zip(plan.jobs, VESSELS, strict=False)
    ]
    orders = [
        replace(order, supply=replace(order.supply, case=2, supplier="")) for order in plan.orders
    ]
    told = replace(plan.told, jobs=plan.told.jobs[: len(jobs)])
    yield replace(
        plan, evenings=(mixed, *others), jobs=tuple(jobs), orders=tuple(orders), told=told,
        proven=False,
    )  # fmt: skip
    yield replace(plan, jobs=(), orders=(), endings=(), told=replace(plan.told, jobs=()))
    yield replace(
        plan, question=replace(plan.question, set_aside=tuple(aside()), of_no_spec=BAR.stock[:1])
    )


def aside() -> Iterator[MixedAhead]:
    """A batch that is not poured, for every reason."""
    spec = SPECS[0]
    (row, *_) = BAR.stock
    lasting = MixedAhead(spec, row, 500.0, 60.0, {}, {}, {})
    for gone in ("nuts", "milk", "quinine", *sorted(LESS), "rye whiskey"):
        yield replace(lasting, gone=(gone,))
    yield replace(lasting, stronger=True)
    yield replace(lasting, each_ml=0.0)


@pytest.mark.parametrize("language", OTHERS)
def test_why_a_batch_is_not_poured_has_words_in_every_language(language: str) -> None:
    (*_, plan) = plans()
    said = [*batches_said(plan, words_of(language))]
    assert len(said) == 7 + len(LESS)
    assert [str(each) for each in said if not each.is_of_page] == []


VESSELS: list[dict[str, Any]] = [
    {"fits": False}, {"fits": False, "makes": 3},
    {"makes": 2}, {"makes": 3, "after": "lemon juice"},
]  # fmt: skip


@pytest.mark.parametrize("at", range(4))
def test_the_page_of_a_plan_has_no_word_of_its_own(at: int) -> None:
    texts = texts_of(plan_page([*plans()][at], BAR, marked_words()))
    assert any("Prepare" in each for each in texts)
    assert outside(texts, own_words()) == []


def test_the_workbook_of_a_plan_has_no_word_of_its_own() -> None:
    for plan in plans():
        book = openpyxl.load_workbook(io.BytesIO(plan_workbook(plan, BAR, marked_words())))
        cells = [str(cell.value) for sheet in book for row in sheet for cell in row if cell.value]
        assert outside([*book.sheetnames, *cells], own_words()) == []


@pytest.mark.parametrize("celsius", [None, -12.0])
def test_the_label_of_a_batch_has_no_word_of_its_own(celsius: float | None) -> None:
    for spec in SPECS:
        size = read_size(BAR.measures, serves=10)
        batch = batch_of(spec, BAR, size, made=BAR.today, celsius=celsius)
        texts = texts_of(batch_labels(batch, BAR, marked_words()))
        assert outside(texts, own_words()) == []


def test_the_label_of_a_house_recipe_has_no_word_of_its_own() -> None:
    for recipe in BAR.recipes.values():
        made = prep_label(prepare(recipe, BAR, BAR.today), BAR, marked_words())
        assert outside([label_text(made)], own_words()) == []


def test_the_label_of_a_house_recipe_names_its_allergens_and_every_hazard() -> None:
    prep = prepare(BAR.recipes["almond-spice-syrup"], BAR, BAR.today)
    said = label_text(prep_label(prep, BAR, words_of("de")))
    assert "Enthält: Schalenfrüchte." in said
    hazards = (*prep.told.kitchen_cautions, *prep.keeping.hazards)
    called = [words_of("de").called(each, "caution") for each in hazards if each != ALWAYS]
    assert len(called) >= 3
    assert [str(each) for each in called if f"Achtung: {each}" not in said] == []
    line = ("prep", "almond-spice-syrup", "--label", "--language", "de")
    assert " ".join(run(*line).stdout.split()) == " ".join(said.split())


def test_a_card_has_no_word_of_its_own() -> None:
    words = marked_words()
    for spec in SPECS:
        found = assess(spec, BAR)
        card = card_of(found, BAR, Reader.BAR, BAR.today, house_of(found.lines, BAR))
        page = cards_html([page_of(card, BAR, words)], spec.name, size="page", book=True)
        notes = [spec.notes] if spec.notes else []
        assert outside(texts_of(page), [*own_words(), *notes]) == []


@pytest.mark.parametrize("language", languages())
def test_what_can_hurt_has_a_word_in_every_language(language: str) -> None:
    table = words_of(language).table
    assert set(ALLERGENS) == set(table["allergen"])
    assert set(ANIMAL_ORIGINS) == set(table["animal"])
    assert set(DECLARATIONS) == set(table["declare"])
    assert set(TECHNIQUES) == set(table["made"]) == set(table["technique"])


@pytest.mark.parametrize("language", OTHERS)
def test_places_whose_law_is_named_have_a_name(language: str) -> None:
    words = words_of(language)
    places = load_defaults().jurisdictions
    assert [each for each in places if not words.called(each, "place").is_of_page] == []


@pytest.mark.parametrize("language", OTHERS)
def test_the_demonstrations_labels_warn_in_every_language(language: str) -> None:
    """Whatever is told on a label that may hurt, none of it in English."""
    words = words_of(language)
    made = labels(weekend(), BAR, words)
    size = read_size(BAR.measures, serves=10)
    mixed = (batch_of(spec, BAR, size, made=BAR.today) for spec in SPECS)
    made += [batch_label(batch, BAR, words) for batch in mixed]
    told = [line for label in made for line in (*label.told, *label.foot)]
    assert len(told) > 20
    assert [str(line) for line in told if not line.is_of_page] == []


def run(*line: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *line], obj=OPEN)


@pytest.fixture
def german(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    path = folder / "bar.toml"
    path.write_text(f'language = "de"\n{path.read_text("utf-8")}', "utf-8")
    return folder


def test_a_standard_drink_is_told_as_the_law_has_it() -> None:
    bar = replace(BAR, jurisdiction="Canada")
    grams = load_defaults().jurisdiction("Canada").standard_drink.g
    assert grams == 13.45
    spec = next(each for each in SPECS if each.name == "Weighbridge")
    batch = batch_of(spec, bar, read_size(bar.measures, serves=4), made=bar.today)
    assert "(Canada, 13.45 g)" in label_text(batch_label(batch, bar, words_of("en")))
    found = assess(spec, bar)
    card = card_of(found, bar, Reader.GUEST, bar.today)
    assert "Kanada, je 13,45 g Alkohol" in page_of(card, bar, words_of("de")).drinks


def test_a_bar_with_a_language_hands_on_papers_in_it(german: Path, tmp_path: Path) -> None:
    label = ("batch", "weighbridge", "--serves", "8", "--label")
    assert "Hergestellt 8.5.2026" in run(*label, bar=german).stdout
    assert "Made 2026-05-08" in run(*label, "--language", "en", bar=german).stdout
    assert "Made 2026-05-08" in run(*label).stdout
    assert "Vor dem Trinken" in run("card", "weighbridge", bar=german).stdout
    place = tmp_path / "plan.html"
    tonight = ("plan", "--drinks", "20", "weighbridge", "-o", str(place))
    assert run(*tonight, bar=german).exit_code == 0
    assert '<html lang="de">' in place.read_text("utf-8")
    assert run(*tonight, "--replace", "--language", "en", bar=german).exit_code == 0
    assert '<html lang="en">' in place.read_text("utf-8")


def test_a_bars_own_names_are_of_its_own_language() -> None:
    """So that a screen reader says them right; none of them is thought to be translated."""
    for own, said in (("de", "de"), ("en", "en")):
        name = words_for(replace(BAR, language=own), "de").called("Sirup vom Hof")
        assert [run.language for run in name.runs] == [said]
        assert not name.is_of_page


def test_what_a_terminal_says_is_english(german: Path) -> None:
    for line in (
        ("batch", "harbour-light", "--serves", "8"), ("plan", "--drinks", "20", "weighbridge"),
    ):  # fmt: skip
        said, english = (run(*line, bar=bar).stdout.splitlines() for bar in (german, DEMO))
        times = [(one, two) for one, two in zip(said, english, strict=True) if one != two]
        assert all("Proven, " in one for one, _ in times)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (("batch", "weighbridge", "--serves", "8", "--language", "de"), "--language goes with"),
        (("plan", "--drinks", "9", "weighbridge", "--language", "de"), "--language goes with"),
        (("batch", "weighbridge", "--serves", "8", "--label", "--language", "xx"), "de, en"),
    ],
)
def test_a_language_without_a_paper_and_one_that_is_not_there_are_refused(
    line: tuple[str, ...], said: str
) -> None:
    found = run(*line)
    assert found.exit_code == 2
    assert said in found.stderr


def test_a_language_of_the_bar_that_is_not_there_is_said_with_its_line(german: Path) -> None:
    path = german / "bar.toml"
    path.write_text(path.read_text("utf-8").replace('"de"', '"xq"', 1), "utf-8")
    found = run("card", "weighbridge", bar=german)
    assert found.exit_code == 2
    assert "line 1" in found.stderr
    assert "Use one of: de, en." in found.stderr


def test_a_label_marks_up_nothing_of_a_users() -> None:
    spec = SPECS[0].model_copy(update={"name": "<b>A</b> & 'C'"})
    batch = batch_of(spec, BAR, read_size(BAR.measures, serves=4), made=BAR.today)
    page = batch_labels(batch, BAR, words_of("de"))
    assert "<b>" not in page
    assert "<b>A</b> & 'C'" in texts_of(page)
    assert label_text(batch_label(batch, BAR, words_of("de"))).startswith("<b>A</b> & 'C'\n")


def test_what_ends_in_pdf_is_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("solver.show.pages.pdf.printed", lambda page: f"%PDF-{page}".encode())
    for line in (
        ("batch", "weighbridge", "--serves", "8", "--label"),
        ("prep", "rhubarb-syrup", "--label"),
    ):
        for ending in ("pdf", "html"):
            place = tmp_path / f"{line[0]}.{ending}"
            assert run(*line, "-o", str(place)).exit_code == 0
            assert place.read_bytes().startswith(b"%PDF-") is (ending == "pdf")


def test_a_plan_and_its_labels_are_printed() -> None:
    pytest.importorskip("weasyprint")
    assert printed(plan_page(weekend(), BAR, words_of("de"))).startswith(b"%PDF-")
