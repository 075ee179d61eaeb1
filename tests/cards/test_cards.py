"""Cards: what stands on them for whom, in every form and language; nothing that runs or calls."""

from __future__ import annotations

import re
import shutil
import tomllib
import xml.etree.ElementTree as ET
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.drinks.card import Reader, card_of
from solver.drinks.method import Act, Serve, method_of
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import load_bar
from solver.pantry.spec import Spec, SpecPour, read_specs
from solver.show.card.drawing import fill_levels
from solver.show.card.made import cards_as
from solver.show.card.vessel import shape_of, volume_to
from solver.show.words import languages, words_of
from solver.tasks.assess import assess

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


def run(*arguments: str, bar: Path = DEMO) -> Result:
    return CliRunner().invoke(main, ["card", *arguments, "--bar", str(bar)])


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
    steps = method_of(technique, Serve.ON_ICE, found.lines, spec.garnish)
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


def test_a_book_has_a_card_for_each_spec_and_a_table_of_contents() -> None:
    page = run("--book", "--as", "html").output
    for name in NAMES:
        assert page.count(f">{name}<") >= 2
    assert "Contents" in page
