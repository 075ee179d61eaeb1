"""Cards: what stands on them for whom, in every form and language; nothing that runs or calls."""

from __future__ import annotations

import builtins
import html
import math
import re
import shutil
import tomllib
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.assess import assess
from solver.drinks.card import Layer, Reader, card_of
from solver.drinks.characters import characters_of
from solver.drinks.method import Act, ServedAs, method_of
from solver.errors import BadInput
from solver.mixture.melt import TECHNIQUES
from solver.pantry.folders import GARNISH_WORDS
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import readable_profiles
from solver.pantry.spec import Spec, SpecPour, read_specs
from solver.pantry.word_forms import brief
from solver.show.pages.card.drawing import LINE_AT, fill_levels
from solver.show.pages.card.garnish import garnish_words
from solver.show.pages.card.html import cards_html
from solver.show.pages.card.made import cards_as
from solver.show.pages.card.page import page_of
from solver.show.pages.card.vessel import SHAPES, height_of, shape_of, volume_to
from solver.show.pages.pdf import printed
from solver.show.text.assessed import assessment_text
from solver.show.words import Words, languages, words_of
from solver.show.words.phrase import Phrase
from solver.tasks.prep.house_recipes import house_of
from solver.tasks.prep.shelf_life import ALWAYS, keeping_of
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"
BAR = load_bar(DEMO)
SPECS = read_specs(BAR.specs)
TODAY = date(2026, 5, 8)
NAMES = [spec.name for spec in SPECS]
HOSTILE = 'A <b>"bold"</b> & <script>alert(1)</script> sour'


def made(
    form: str, *specs: Spec, reader: str = "bar", language: str = "en", size: str = "page"
) -> str:
    found = cards_as(
        form, specs, BAR, Reader(reader), words_of(language), TODAY, size=size, book=len(specs) > 1
    )
    return found.decode()


def drink(
    name: str, *, technique: str = "shake", glass: str = "coupe", garnish: str | None = None,
    steps: Sequence[str] = (),
) -> Spec:  # fmt: skip
    pours = (SpecPour(ingredient="gin", amount="2 oz"),
             SpecPour(ingredient="lemon-juice", amount="3/4 oz"))  # fmt: skip
    return Spec(
        name=name, technique=technique, glass=glass, garnish=garnish, steps=tuple(steps),
        pours=pours,
    )  # fmt: skip


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["card", *arguments, "--bar", str(bar)], obj=OPEN)


class _Text(HTMLParser):
    """The words of a page, each as it stands between two tags."""

    def __init__(self) -> None:
        super().__init__()
        self.said: list[str] = []

    def handle_data(self, data: str) -> None:
        self.said.append(data)


class _Tags(HTMLParser):
    """Which tags a page has, whether each is closed, and what it would load."""

    VOID = frozenset({"meta", "link", "br", "hr", "img", "input"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[str] = []
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.loads += [value or "" for name, value in attrs if name in {"src", "href", "action"}]
        self.loads += [name for name, _ in attrs if name.startswith("on")]
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("size", ["page", "index", "phone"])
@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("reader", [each.value for each in Reader])
def test_a_page_is_whole_and_neither_runs_nor_calls_anything(
    reader: str, language: str, size: str
) -> None:
    page = made("html", *SPECS, reader=reader, language=language, size=size)
    tags = _Tags()
    tags.feed(page)
    assert tags.open == []
    assert "script" not in tags.seen
    assert all(each.startswith("#") for each in tags.loads)
    assert not re.search(r"url\(|@import|https?://(?!www\.w3\.org/2000/svg)", page)
    assert f'lang="{language}"' in page
    assert tags.seen.count("svg") >= page.count('role="img"') >= len(SPECS)


@pytest.mark.parametrize("size", ["page", "index", "phone"])
@pytest.mark.parametrize("reader", [each.value for each in Reader])
def test_no_size_of_a_card_leaves_out_what_may_hurt(reader: str, size: str) -> None:
    bar = load_bar(DEMO)
    for spec in SPECS:
        found = assess(spec, bar)
        card = card_of(found, bar, Reader(reader), TODAY, house_of(found.lines, bar))
        page = page_of(card, bar, words_of("en"))
        written = html.unescape(cards_html([page], "one", size=size, book=False))
        told = [*page.tells, *page.cautions, *page.kitchen]
        told += [line for each in page.house for line in each.cautions]
        assert [str(line) for line in told if str(line) not in written] == []
        kept = [page.drinks, page.defers, page.planned, *(each.keeping for each in page.house)]
        assert [line for line in kept if line not in written] == []


@pytest.mark.parametrize("language", [each for each in languages() if each != "en"])
def test_hazards_that_are_worked_out_are_said_in_every_language(language: str) -> None:
    words = words_of(language)
    cream, almond = (BAR.library.find(name) for name in ("heavy cream", "almonds"))
    thin = {"brix": 10.0, "sugar_g_100ml": 10.0, "acid_g_100ml": 0.0, "abv_pct": 0.0}
    names = ("garlic", "olive oil", "whole egg", "black tea leaves")
    inputs = [cream, almond, *map(BAR.library.find, names)]
    found = keeping_of(inputs, strained=True, activity=0.98, **thin)
    hazards = [each for each in found.hazards if each != ALWAYS]
    assert len(hazards) == 5
    assert [str(words.called(each, "caution")) for each in hazards if english(each, words)] == []


def english(text: str, words: Words) -> bool:
    """Whether any of a caution stays in English."""
    return not words.called(text, "caution").is_of_page


def test_a_small_card_has_the_recipe_where_it_fits_and_says_so_where_not() -> None:
    bar = load_bar(DEMO)
    found = assess(next(spec for spec in SPECS if spec.name == "Harbour Light"), bar)
    house = house_of(found.lines, bar)
    words = words_of("en")
    page = page_of(card_of(found, bar, Reader.BAR, TODAY, house), bar, words)
    long = replace(page, notes=Phrase.of("Stir it well. " * 200))
    small, crowded = (cards_html([each], "one", size="index", book=False) for each in (page, long))
    assert page.larger in html.unescape(crowded)
    assert "Stir it well" not in crowded
    whole = cards_html([long], "one", size="page", book=False)
    assert "Stir it well" in whole
    assert page.larger not in whole
    assert "add the white sugar" in small
    assert page.larger not in html.unescape(small)


@pytest.mark.parametrize("form", ["html", "svg", "txt"])
def test_words_of_a_user_are_words_and_no_markup(form: str) -> None:
    spec = Spec(
        name=HOSTILE, garnish="<img src=x>", notes="<i>notes</i>", technique="shake", glass="coupe",
        pours=(SpecPour(ingredient="gin", amount="2 oz"),),
    )  # fmt: skip
    page = made(form, spec)
    if form == "html":
        tags = _Tags()
        tags.feed(page)
        assert not {"script", "b", "i", "img"} & set(tags.seen)
    if form == "svg":
        root = ET.fromstring(page)  # noqa: S314
        assert any("alert(1)" in "".join(each.itertext()) for each in root.iter())
        assert not [each for each in root.iter() if each.tag.endswith(("script", "img"))]


@pytest.mark.parametrize("spec", SPECS, ids=NAMES)
def test_a_guest_is_told_everything_and_no_secret_of_the_house(spec: Spec) -> None:
    found = assess(spec, BAR)
    guest, house = " ".join(made("txt", spec, reader="guest").split()), made("txt", spec)
    for caution in found.guest.cautions:
        assert caution in guest
    for names in (found.guest.allergens_not_known, found.guest.told.animal_not_known):
        assert all(name in guest for name in names)
    words = words_of("en")
    for allergen in found.guest.allergens:
        assert words.say("allergen", allergen) in guest
    for origin in found.guest.told.animal | found.guest.told.may_animal:
        assert words.say("animal", origin) in guest
    for declared in found.guest.told.declare:
        assert words.say("declare", declared) in guest
    assert f"{found.guest.standard_drinks:.1f} standard drinks" in guest
    assert "Labels, local rules and licensed practice come before" in guest
    assert "EUR" in house
    assert "EUR" not in guest
    assert "EUR" not in made("txt", spec, reader="reader")
    assert "Made in the house" not in guest


@pytest.mark.parametrize("form", ["html", "svg"])
@pytest.mark.parametrize("spec", SPECS, ids=NAMES)
def test_every_form_says_the_same_to_a_guest(spec: Spec, form: str) -> None:
    found, words = assess(spec, BAR), words_of("en")
    page = re.sub(r"<!doctype[^>]*>|<meta[^>]*>", "", made(form, spec, reader="guest"))
    root = ET.fromstring(page)  # noqa: S314
    said = "".join(" ".join("".join(root.itertext()).split()).split())
    wanted = [*found.guest.cautions, words.say("line", "defers")]
    wanted += [words.say("allergen", allergen) for allergen in found.guest.allergens]
    wanted += [words.say("animal", each) for each in found.guest.told.animal]
    for each in wanted:
        assert "".join(each.split()) in said.replace("•", "")


def test_every_language_has_the_same_words_and_no_gap_of_its_own() -> None:
    folder = Path(__file__).parents[2] / "solver" / "show" / "words"
    tables = {
        each: tomllib.loads((folder / f"{each}.toml").read_text("utf-8")) for each in languages()
    }

    def gaps(table: object, path: tuple[str, ...] = ()) -> dict[tuple[str, ...], frozenset[str]]:
        if isinstance(table, dict):
            return {
                k: v for key, each in table.items() for k, v in gaps(each, (*path, key)).items()
            }
        return {path: frozenset(re.findall(r"{(\w+)}", str(table)))}

    assert len(tables) >= 2
    first = gaps(tables["en"])
    for table in tables.values():
        assert gaps(table).keys() == first.keys()
        assert all(gap <= first[key] for key, gap in gaps(table).items())


@pytest.mark.parametrize("technique", sorted(TECHNIQUES))
def test_every_pour_is_poured_once_and_what_goes_on_top_comes_last(technique: str) -> None:
    spec = Spec(
        name="a drink", technique=technique, glass="highball", garnish="a cherry",
        pours=(
            SpecPour(ingredient="gin", amount="2 oz"),
            SpecPour(ingredient="lemon-juice", amount="3/4 oz"),
            SpecPour(ingredient="soda-water", amount="2 oz", stage="top"),
        ),
    )  # fmt: skip
    found = assess(spec, load_bar(None))
    steps = method_of(technique, ServedAs.ON_ICE, found.lines, spec.garnish)
    poured = [item.key for step in steps for item in step.ingredients]
    assert sorted(poured) == ["gin", "lemon-juice", "soda-water"]
    assert poured[-1] == "soda-water"
    assert steps[-1].act is Act.GARNISH


@pytest.mark.parametrize("spec", SPECS, ids=NAMES)
def test_the_glass_is_filled_as_far_as_the_drink_fills_it(spec: Spec) -> None:
    """By volume, of a glass whose wash line holds what the bar says."""
    card = card_of(assess(spec, BAR), BAR, Reader.BAR, TODAY)
    if card.glass is None:
        return
    shape = shape_of(card.glass.name)
    levels = fill_levels(card, shape)
    assert levels == sorted(levels)
    parts = [volume_to(shape.bowl, level) for level in levels]
    mixed, whole = card.layers[0].volume_ml, sum(layer.volume_ml for layer in card.layers)
    assert parts[0] / parts[-1] == pytest.approx(mixed / whole, rel=0.02)


def test_text_keeps_to_the_width() -> None:
    for language in languages():
        assert all(len(line) <= 80 for line in made("txt", *SPECS, language=language).splitlines())


def test_a_card_goes_into_a_file_and_takes_the_place_of_none_unasked(tmp_path: Path) -> None:
    place = tmp_path / "card.html"
    assert run("harbour-light", "-o", str(place)).exit_code == 0
    whole = place.read_bytes()
    refused = run("harbour-light", "-o", str(place))
    assert refused.exit_code == 2
    assert "there is a file of that name" in refused.stderr
    assert place.read_bytes() == whole
    assert run("dry-dock", "-o", str(place), "--replace").exit_code == 0
    assert place.read_bytes() != whole


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "name a SPEC"),
        (("--book", "harbour-light"), "name a SPEC"),
        (("no-such-drink",), "is not a spec"),
        (("harbour-light", "--language", "xx"), "not a language known here"),
        (("harbour-light", "-o", "card.doc"), "say what card.doc is to be"),
        (("harbour-light", "-o", "nowhere/card.html"), "no such folder"),
        (("harbour-light", "dry-dock", "--as", "svg"), "one card"),
        (("harbour-light", "--as", "pdf"), "goes into a file"),
        (("harbour-light", "--replace"), "--replace goes with --output"),
    ],
)
def test_a_slip_gets_one_sentence(arguments: tuple[str, ...], said: str) -> None:
    result = run(*arguments)
    assert result.exit_code == 2
    assert said in result.stderr
    assert result.stdout == ""


def test_a_bar_without_specs_has_no_book(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    shutil.rmtree(bar / "specs")
    result = run("--book", bar=bar)
    assert result.exit_code == 2
    assert "there is no spec in this bar" in result.stderr


def test_a_card_says_the_last_day_that_the_shelf_says(tmp_path: Path) -> None:
    """The note of a bottle may bring it forward; own figures on the shelf change nothing of it."""
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    shelf = bar / "shelf.csv"
    written = "2026-05-04,,invented price and stock; house; date made"
    assert written in shelf.read_text()
    dated = f"2026-05-04,abv=0.5%,{written.partition(',,')[2]}; use by 2026-05-10"
    shelf.write_text(shelf.read_text().replace(written, dated))
    opened = load_bar(bar)
    (spec,) = (each for each in read_specs(opened.specs) if each.name == "Harbour Light")
    found = assess(spec, opened)
    card = card_of(found, opened, Reader.BAR, TODAY, house_of(found.lines, opened))
    days = {house.ingredient.key: house.use_by for house in card.house}
    assert days["rhubarb-syrup"] == date(2026, 5, 10)


def test_a_book_has_a_card_for_each_spec_and_a_table_of_contents() -> None:
    page = run("--book", "--as", "html").output
    for name in NAMES:
        assert page.count(f">{name}<") >= 2
    assert "Contents" in page


PRINTABLE = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp", "Zs")), min_size=1
)


@given(name=PRINTABLE, garnish=PRINTABLE)
def test_any_name_comes_back_from_a_page_as_it_was_written(name: str, garnish: str) -> None:
    spec = drink(name, garnish=garnish, steps=(garnish,))
    tags = _Text()
    tags.feed(made("html", spec))
    assert name in tags.said
    assert garnish in tags.said
    said = [each.text for each in ET.fromstring(made("svg", spec)).iter()]  # noqa: S314
    assert any((each or "").startswith(f"{name}: ") for each in said)


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\x07", "\u202e", "\u2066", "\ufffe"])
def test_what_would_steer_a_terminal_or_turn_a_line_around_is_no_name(sign: str) -> None:
    for wrong in ({"name": f"a{sign}b"}, {"garnish": f"a{sign}b"}, {"steps": (f"a{sign}b",)}):
        with pytest.raises(ValueError, match="cannot be printed"):
            drink(**{"name": "a drink", **wrong})  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ["wide " * 40, "w" * 200])
def test_a_long_name_keeps_to_the_width_on_its_card_and_in_the_contents(name: str) -> None:
    page = made("txt", drink(name.strip()), SPECS[0])
    assert all(len(line) <= 80 for line in page.splitlines())


@pytest.mark.parametrize("names", [("A", "A"), ("A", "A glass"), ("Contents", "A-B"), ("!", "?")])
def test_no_two_things_of_a_page_have_the_same_name(names: tuple[str, str]) -> None:
    page = made("html", *(drink(name) for name in names))
    ids = re.findall(r'\bid="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'(?:href="#|aria-labelledby=")([^"]+)"', page)) <= set(ids)


def test_every_picture_says_in_words_what_it_shows() -> None:
    page = re.sub(r"<!doctype[^>]*>|<meta[^>]*>", "", made("html", SPECS[1]), flags=re.IGNORECASE)
    root = ET.fromstring(page)  # noqa: S314
    pictures = [each for each in root.iter() if each.tag.endswith("svg")]
    assert len(pictures) == 4
    for each in pictures:
        titles = [part.text for part in each if part.tag.endswith("title")]
        assert each.get("aria-label") or titles[0]


@given(shape=st.sampled_from(sorted(SHAPES)), share=st.floats(0, 1))
def test_a_share_of_a_glass_stands_as_high_as_holds_that_share(shape: str, share: float) -> None:
    bowl = SHAPES[shape].bowl
    whole = volume_to(bowl, bowl[-1][1])
    assert volume_to(bowl, height_of(bowl, share)) == pytest.approx(share * whole, abs=1e-9 * whole)


@given(r0=st.floats(0, 9), r1=st.floats(0, 9), height=st.floats(0.1, 9))
def test_what_a_slice_of_a_glass_holds_is_the_integral_of_its_circles(
    r0: float, r1: float, height: float
) -> None:
    """Simpson's rule is exact for them: areas are quadratic in height."""
    areas = (math.pi * radius**2 for radius in (r0, (r0 + r1) / 2, r1))
    bottom, middle, top = areas
    simpson = height / 6 * (bottom + 4 * middle + top)
    assert volume_to(((r0, 0.0), (r1, height)), height) == pytest.approx(simpson)


def test_a_cone_holds_an_eighth_at_half_its_height() -> None:
    """Volumes of similar solids are as the cubes of their heights (Euclid, Elements XII.12)."""
    bowl = SHAPES["cone"].bowl
    assert height_of(bowl, 1 / 8) == pytest.approx(bowl[-1][1] / 2)


def test_a_drink_as_large_as_its_wash_line_stands_at_the_line_that_is_drawn() -> None:
    glass = BAR.glass("double-rocks")
    assert glass is not None
    found = card_of(assess(drink("a drink", glass=glass.name, technique="build"), BAR), BAR,
                    Reader.BAR, TODAY)  # fmt: skip
    full = replace(found, layers=(Layer(glass.wash_line_ml),))
    shape = shape_of(glass.name)
    (level,) = fill_levels(full, shape)
    assert level == pytest.approx(height_of(shape.bowl, LINE_AT))
    (half,) = fill_levels(replace(full, layers=(Layer(glass.wash_line_ml / 2),)), shape)
    assert volume_to(shape.bowl, half) == pytest.approx(volume_to(shape.bowl, level) / 2)


MADE = {
    "shake": [Act.TIN, Act.SHAKE, Act.STRAIN_UP],
    "shake-egg": [Act.TIN, Act.DRY_SHAKE, Act.SHAKE, Act.STRAIN_UP],
    "stir": [Act.MIXING_GLASS, Act.STIR, Act.STRAIN_UP],
    "throw": [Act.TIN, Act.THROW, Act.STRAIN_UP],
    "blend": [Act.BLENDER, Act.BLEND, Act.SERVE_FROM_BLENDER],
    "swizzle": [Act.ON_CRUSHED, Act.SWIZZLE],
    "build": [Act.IN_GLASS],
    "shake-top": [Act.TIN, Act.SHAKE_SHORT, Act.STRAIN_UP],
    "julep": [Act.ON_CRUSHED, Act.CHURN],
    "none": [Act.IN_GLASS],
}
"""Common practice, no source."""


@pytest.mark.parametrize("technique", sorted(MADE))
def test_a_drink_is_made_as_the_trade_makes_it(technique: str) -> None:
    lines = assess(drink("a drink", technique=technique), load_bar(None)).lines
    assert [step.act for step in method_of(technique, ServedAs.UP, lines, None)] == MADE[technique]


def test_a_drink_is_stirred_on_its_ice_as_long_as_its_melt_takes() -> None:
    """A fifth and more of it is water in a glass that nothing lengthens, a tenth in a long one."""
    lines = assess(drink("a drink"), BAR).lines

    def stirred(technique: str) -> Act:
        return method_of(technique, ServedAs.ON_ICE, lines, None)[-1].act

    assert float(TECHNIQUES["build"].curve.fraction(0.3)) > 0.2
    assert stirred("build") is Act.STIR_ON_ICE
    for long in ("build-top", "highball"):
        assert float(TECHNIQUES[long].curve.fraction(0.3)) < 0.15
        assert stirred(long) is Act.STIR_BRIEFLY


@pytest.mark.parametrize(
    ("garnish", "more"), [("8 mint leaves, shaken with it", ()), ("", ("mint-leaves", "8 leaves"))]
)
def test_torn_leaves_are_held_back_by_a_fine_sieve(garnish: str, more: tuple[str, ...]) -> None:
    spec = drink("a drink", technique="shake", garnish=garnish or None)
    if more:
        leaves = SpecPour(ingredient=more[0], amount=more[1])
        spec = spec.model_copy(update={"pours": (*spec.pours, leaves)})
    lines = assess(spec, BAR).lines
    for serve, act in (
        (ServedAs.UP, Act.FINE_STRAIN_UP),
        (ServedAs.ON_ICE, Act.FINE_STRAIN_ON_ICE),
        (ServedAs.CRUSHED, Act.FINE_STRAIN_ON_CRUSHED),
    ):
        acts = [step.act for step in method_of("shake", serve, lines, spec.garnish)]
        assert act in acts
        laid_on = method_of("shake", serve, lines[:2], "sprig of mint")
        assert act not in [step.act for step in laid_on]
    assert "Fine strain into the chilled coupe." in made("txt", spec)


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("size", ["page", "index", "phone"])
def test_a_book_prints_one_card_to_a_sheet(size: str, language: str) -> None:
    weasyprint = pytest.importorskip("weasyprint")
    html = made("html", *SPECS, size=size, language=language)
    assert len(weasyprint.HTML(string=html).render().pages) == 1 + len(SPECS)


def test_a_card_is_printed() -> None:
    pytest.importorskip("weasyprint")
    assert printed(made("html", SPECS[0])).startswith(b"%PDF-")


def test_without_what_prints_it_a_pdf_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def missing(name: str, *rest: object) -> object:
        if name == "weasyprint":
            message = "No module named 'weasyprint'"
            raise ImportError(message)
        return real(name, *rest)  # type: ignore[arg-type]

    monkeypatch.setattr(builtins, "__import__", missing)
    with pytest.raises(BadInput) as found:
        printed("<p>a card</p>")
    assert "pip install 'equipour[pdf]'" in str(found.value.remedy)


@pytest.mark.parametrize("language", [each for each in languages() if each != "en"])
def test_what_the_demonstration_pours_has_a_name_in_every_language(language: str) -> None:
    words = words_of(language)
    for spec in SPECS:
        found = assess(spec, BAR)
        poured = [words.called(line.ingredient.name) for line in found.lines]
        for phrase in (*poured, words.called(BAR.jurisdiction, "place")):
            assert {run.language for run in phrase.runs} == {""}, str(phrase)


@pytest.mark.parametrize("language", [each for each in languages() if each != "en"])
def test_a_garnish_that_takes_nothing_unknown_has_a_name_too(language: str) -> None:
    for spec in SPECS:
        steps = card_of(assess(spec, BAR), BAR, Reader.BAR, TODAY).steps
        for step in steps:
            if step.act is Act.GARNISH:
                assert words_of(language).called(step.words, "garnish").runs[0].language == ""


@pytest.mark.parametrize("language", [each for each in languages() if each != "en"])
def test_what_guests_are_warned_of_is_said_in_every_language(language: str) -> None:
    words = words_of(language)
    hazards = tomllib.loads(GARNISH_WORDS.read_text("utf-8"))["hazards"].values()
    said = {each for item in BAR.library for each in (*item.cautions, *item.kitchen_cautions)}
    english = [each for each in (*said, *hazards) if not words.called(each, "caution").is_of_page]
    assert english == []


@pytest.mark.parametrize("language", [each for each in languages() if each != "en"])
def test_what_profiles_lay_on_a_glass_is_said_in_every_language(language: str) -> None:
    profiles, _ = readable_profiles(None)
    named = {profile.garnish for profile in profiles if profile.garnish}
    named |= {garnish for profile in profiles for garnish in profile.garnishes.values()}
    words = words_of(language)
    assert named
    assert [each for each in named if not garnish_words(each, words).is_of_page] == []


def test_of_a_garnish_each_part_is_said_in_the_language_that_has_it() -> None:
    spec = drink("A drink", garnish="celery salt rim, crushed hazelnuts and Zq crumb")
    page = " ".join(made("txt", spec, language="de", reader="guest").split())
    assert "Garnitur: Rand aus Selleriesalz, zerstoßene Haselnüsse und Zq crumb." in page
    assert "Allergene nicht bekannt: Garnitur (" in page
    assert "garnish" not in page


@given(name=PRINTABLE)
def test_a_page_of_another_language_marks_what_has_no_word_in_it_as_english(name: str) -> None:
    spec = drink("A drink", garnish=f"Q{name}q", steps=(f"Z{name}z",))
    page = html.unescape(made("html", spec, language="de"))
    assert f'<span lang="en">Z{name}z</span>' in page
    assert '<span lang="en">' not in made("html", spec)


def test_numbers_units_and_names_of_a_card_are_those_of_its_language() -> None:
    (spec,) = (each for each in SPECS if each.name == "Last Ferry")
    page = made("txt", spec, language="de")
    assert "22,5 ml  Schlagsahne, 36 % Fett, obenauf" in page
    assert "Ins Glas gießen: irischer Whiskey und Sirup aus" in page
    assert "Deutschland" in page


def test_a_name_in_brackets_is_left_out_while_working_and_what_follows_it_is_not() -> None:
    assert brief("aged (amber) rum") == "aged rum"
    assert brief("heavy cream, 36 % fat") == "heavy cream"
    assert brief("aquafaba (chickpea liquor)") == "aquafaba"


def test_what_is_counted_stands_on_a_card_as_counted_and_as_weighed() -> None:
    pours = (SpecPour(ingredient="bourbon", amount="2 oz"),
             SpecPour(ingredient="mint-leaves", amount="8 leaves"),
             SpecPour(ingredient="lime", amount="1/2 piece"),
             SpecPour(ingredient="sugar-cube", amount="1 cube"))  # fmt: skip
    spec = Spec(name="counted", technique="julep", pours=pours)
    page = made("txt", spec)
    assert re.search(r" 8 +0.4 g +mint leaves\n", page)
    assert re.search(r"1/2 piece +40 g +lime\n", page)
    assert re.search(r" 1 +2.5 g +sugar cube\n", page)
    assert "Press the mint leaves gently" in page
    assert "Muddle the sugar cube and lime." in page
    assert re.search(r"1/2 Stück +40 g +Limette\n", made("txt", spec, language="de"))


def test_a_bitter_drink_is_not_called_sweet_for_its_sugar() -> None:
    def taste(*pours: tuple[str, str]) -> str:
        lines = tuple(SpecPour(ingredient=key, amount=amount) for key, amount in pours)
        return made("txt", Spec(name="a drink", technique="stir", pours=lines)).splitlines()[1]

    third = (("gin", "1 oz"), ("sweet-vermouth", "1 oz"))
    assert taste(*third, ("red-bitter", "1 oz")).startswith(
        "Of middling strength, bittersweet; bitter notes,"
    )
    assert ", sweet; almond" in taste(*third, ("amaretto", "1 oz"))
    long = (("light-orange-bitter", "2 oz"), ("sparkling-wine", "3 oz"), ("soda-water", "1 oz"))
    assert "bittersweet" in taste(*long)
    assert ", sweet; flowers" in taste(("elderflower-liqueur", "2 oz"), *long[1:])
    coffee = (("vodka", "1 oz"), ("coffee-liqueur", "1 oz"))
    assert "herbs" not in taste(*coffee, ("orange-liqueur", "1/2 oz"))


def test_a_way_that_names_its_ice_does_not_name_it_twice() -> None:
    for glass in ("julep-cup", "double-rocks", None):
        pours = (SpecPour(ingredient="bourbon", amount="2 oz"),)
        spec = Spec(name="a drink", technique="julep", glass=glass, pours=pours)
        assert made("txt", spec).count("crushed ice") == 2  # in the head and in one step


@pytest.mark.parametrize("spec", SPECS, ids=NAMES)
def test_a_taste_begins_with_what_the_house_made(spec: Spec) -> None:
    found = assess(spec, BAR)
    said = characters_of(found.lines, BAR)
    house = {
        tag
        for line in found.lines
        if line.ingredient.key in BAR.house
        for tag in line.ingredient.character
    }
    assert not house or set(said[:2]) <= house
    assert set(said) - house


def test_a_taste_is_of_what_is_peculiar_before_what_is_poured_most_of() -> None:
    by_name = {spec.name: characters_of(assess(spec, BAR).lines, BAR) for spec in SPECS}
    assert by_name["Harbour Light"] == ("vegetal", "berry", "oak")
    assert by_name["Last Ferry"][-1] == "coffee"
    assert by_name["Weighbridge"][0] == "bitter"


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("form", ["txt", "html", "svg"])
def test_when_it_was_approved_and_printed_is_no_business_of_a_guest(
    form: str, language: str
) -> None:
    spec = next(each for each in SPECS if each.approved)
    assert spec.approved is not None
    words = words_of(language)
    days = {words.day(TODAY), words.day(spec.approved.date)}
    bar, guest = (made(form, spec, reader=each, language=language) for each in ("bar", "guest"))
    assert all(day in bar for day in days)
    assert not any(day in guest for day in days)


@pytest.mark.parametrize("technique", sorted(TECHNIQUES))
def test_a_glass_that_nobody_named_is_no_glass_of_that_name(technique: str) -> None:
    spec = drink("a drink", technique=technique).model_copy(update={"glass": None})
    page = " ".join(made("txt", spec).split())
    assert "the glass" not in page.replace("In the glass", "").replace("in the glass", "")
    assert "chilled glass" not in page or "into a chilled glass" in page
    assert ", glass" not in page


def test_the_water_of_a_hot_drink_is_hot_wherever_it_is_poured() -> None:
    pours = tuple(
        SpecPour(ingredient=key, amount=amount)
        for key, amount in (
            ("rye-whiskey", "1 1/2 oz"),
            ("simple-syrup", "1/2 oz"),
            ("water", "4 oz"),
        )
    )
    toddy = Spec(name="a toddy", technique="hot", glass="mug", pours=pours)
    said = made("txt", toddy)
    assert said.count("hot water") == 3  # in the pours, in the glass before, in the step
    assert "Add hot water, and stir." in said
    assert "heißes Wasser" in made("txt", toddy, language="de")
    assert "  4 oz  hot water\n" in assessment_text(assess(toddy, BAR), BAR)
    cold = Spec(name="a drink", technique="build", pours=pours)
    assert "hot water" not in made("txt", cold)


@pytest.mark.parametrize(
    ("garnish", "first", "last"),
    [
        ("8 mint leaves, shaken with it, and a sprig of mint on top",
         "Put 8 mint leaves into the shaker.", "Garnish: a sprig of mint on top."),
        ("mint leaves, bruised in the glass",
         "Press mint leaves gently in the glass, without tearing.", ""),
        ("1 lime in 8 pieces, muddled in the glass for the juice above",
         "Muddle 1 lime in 8 pieces in the glass.", ""),
        ("rim of salt, and a lime wheel", "Rim the glass with salt.", "Garnish: a lime wheel."),
        ("lemon slice", "", "Garnish: lemon slice."),
        ("rim of sugar, and a lemon wheel", "Rim the glass with sugar.", "Garnish: a lemon wheel."),
    ],
)  # fmt: skip
def test_what_goes_in_before_the_drink_is_not_laid_on_it(
    garnish: str, first: str, last: str
) -> None:
    page = " ".join(made("txt", drink("A drink", garnish=garnish)).split())
    begins, ends = page.index("1. "), page.index("In the glass")
    steps = page[begins:ends]
    assert steps.startswith(f"1. {first}")
    assert last in steps
    assert ("Garnish:" in steps) is bool(last)
    german = made("txt", drink("A drink", garnish=garnish), language="de")
    assert "leaves" not in german
    assert "pieces" not in german


@pytest.mark.parametrize("peel", ["lemon peel", "orange twist", "wide grapefruit zest"])
def test_the_oil_of_a_peel_goes_over_the_drink(peel: str) -> None:
    said = " ".join(made("txt", drink("A drink", garnish=peel)).split())
    assert f"Express {peel} over the drink, and drop it in." in said
    told = " ".join(made("txt", drink("A drink", garnish=f"{peel}, expressed")).split())
    assert f"Garnish: {peel}, expressed." in told


@pytest.mark.parametrize(
    ("key", "name"), [("white-sugar", "granulated sugar"), ("simple-syrup", "simple syrup")]
)
def test_the_juice_of_muddled_fruit_is_not_poured_as_well(key: str, name: str) -> None:
    garnish = "1 lime in 8 pieces, muddled in the glass for the juice above"
    pours = tuple(
        SpecPour(ingredient=each, amount=amount)
        for each, amount in (("white-rum", "2 oz"), ("lime-juice", "1 oz"), (key, "12 g"))
    )
    if key == "simple-syrup":
        pours = (*pours[:2], SpecPour(ingredient=key, amount="3/4 oz"))
    spec = Spec(name="pressed", technique="julep", garnish=garnish, pours=pours)
    method = made("txt", spec).partition("Method")[2].partition("In the glass")[0]
    said = " ".join(method.split())
    assert said.startswith(f"1. Muddle 1 lime in 8 pieces in the glass with the {name}. 2. Pour")
    assert "juice" not in said
    assert "white rum" in said


def test_a_drink_with_mint_in_it_tastes_of_mint() -> None:
    (spec,) = (each for each in SPECS if each.name == "Rope Store")
    found = assess(spec, BAR)
    julep = spec.model_copy(update={"garnish": "mint leaves, bruised in the cup"})
    mint = spec.model_copy(update={"garnish": "sprig of mint"})
    assert "mint" not in characters_of(found.lines, BAR)
    assert "mint" in card_of(assess(julep, BAR), BAR, Reader.BAR, TODAY).characters
    assert "mint" not in card_of(assess(mint, BAR), BAR, Reader.BAR, TODAY).characters
