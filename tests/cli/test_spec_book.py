"""The spec book: listed, sorted, assessed whole, written from the command line; mistakes in it."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from solver.drinks.assess import assess, find_drink
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import read_spec
from solver.pantry.spec_file import write_spec
from solver.show.text.pours import said_amount
from solver.tasks.assess_all import BY, assess_all, sorted_by
from solver.tasks.save import place_for, spec_of_pours
from tests.examples import examples
from tests.open_bars import OPEN
from tests.tasks.bars import DEMO, demo


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "demo")
    return tmp_path / "demo"


@pytest.fixture
def broken(bar: Path) -> Path:
    (bar / "specs" / "anchor.toml").write_text('name = "Anchor"\npours = 3\n')
    (bar / "specs" / "zinc.toml").write_text(
        'name = "Zinc"\n[[pours]]\ningredient = "giin"\namount = "2 oz"\n'
    )
    return bar


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, ["--bar", str(bar), *arguments], obj=OPEN)


def test_the_book_is_one_table_with_a_line_for_each_spec() -> None:
    result = run(DEMO, "specs")
    assert result.exit_code == 0
    lines = result.output.splitlines()
    ferry = next(line for line in lines if line.startswith("Last Ferry"))
    for said in ("hot-coffee", "2.10", "1.2", "never", "milk, nuts", "on target"):
        assert said in ferry
    assert "2026-04-30" in next(line for line in lines if line.startswith("Harbour Light"))


def test_the_book_as_a_document_has_every_spec() -> None:
    found = json.loads(run(DEMO, "specs", "--json").output)
    assert found["format"] == 1
    assert len(found["specs"]) == len(list((DEMO / "specs").glob("*.toml")))
    assert found["misread"] == []


@pytest.mark.parametrize("column", BY)
def test_the_book_is_sorted_by_any_of_its_columns(column: str) -> None:
    found = sorted_by(assess_all(demo()).specs, column)
    assert {each.spec.name for each in found} == {spec.name for spec in demo().book.specs}
    if column in MEASURES:
        values = [each.values[column] for each in found]
        assert values == sorted(values, key=lambda value: (value is None, value))
    assert run(DEMO, "specs", "--by", column).exit_code == 0


def test_a_column_that_is_none_is_refused() -> None:
    result = run(DEMO, "specs", "--by", "colour")
    assert result.exit_code == 2
    assert "'colour' is not a column" in result.stderr


@pytest.mark.parametrize("command", [("specs",), ("assess", "--all"), ("specs", "--csv")])
def test_a_mistake_in_one_spec_is_told_and_leaves_the_others(
    broken: Path, command: tuple[str, ...]
) -> None:
    result = run(broken, *command)
    assert result.exit_code == 2
    for said in ("Harbour Light", "Weighbridge", "anchor.toml", "'giin' is not an ingredient"):
        assert said in result.stdout


@pytest.mark.parametrize(
    "command",
    [("design", "sour"), ("check", "sour"), ("check", "any", "--abv", "<=2%"),
     ("design", "harbour-light"), ("design", "sour", "--save", "Kedge")],
)  # fmt: skip
def test_a_mistake_in_a_spec_does_not_stop_a_design(broken: Path, command: tuple[str, ...]) -> None:
    result = run(broken, *command)
    assert result.exit_code == 0, result.output
    assert "anchor.toml is left aside" in result.stderr
    assert "zinc.toml is left aside" in result.stderr


def test_a_name_in_a_book_with_mistakes_is_found(broken: Path) -> None:
    assert run(broken, "assess", "last ferry").exit_code == 0
    result = run(broken, "assess", "kedge")
    assert result.exit_code == 2
    assert "'kedge' is not a spec of this bar" in result.stderr


POURS = st.lists(
    st.tuples(
        st.sampled_from(["1/4 oz", "3/4 oz", "22.5 ml", "2 oz", "1 1/2 oz", "2 dashes"]),
        st.sampled_from(["gin", "rye-whiskey", "lemon juice", "rich syrup", "amaro", "soda"]),
    ).map(" ".join),
    min_size=1,
    max_size=4,
)


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Bar:
    root = tmp_path_factory.mktemp("saved")
    settings = (DEMO / "bar.toml").read_text()
    (root / "bar.toml").write_text(settings.replace("highball]", "high-ball]"))
    return load_bar(root)


@settings(max_examples=examples(0.25))
@given(
    pours=POURS,
    topped=st.lists(st.sampled_from(["2 oz soda-water", "1/2 oz red wine"]), max_size=1),
    profile=st.sampled_from([None, "sour", " Fizz ", "stirred"]),
    technique=st.sampled_from([None, "stir", "build"]),
    glass=st.sampled_from([None, "coupe", "High Ball"]),
    garnish=st.none() | st.sampled_from(["lemon wheel", " crushed  hazelnuts ", "=1+1"]),
    notes=st.none() | st.sampled_from(["Swap in egg", "two\nlines"]),
)
def test_what_is_saved_is_assessed_to_the_same(
    house: Bar, pours: list[str], topped: list[str], profile: str | None, technique: str | None,
    glass: str | None, garnish: str | None, notes: str | None,
) -> None:  # fmt: skip
    said = find_drink((*pours, "1 oz gin"), topped, house)
    spec = spec_of_pours(said, name="Kedge", profile=profile, technique=technique, glass=glass,
                         garnish=garnish, notes=notes)  # fmt: skip
    typed = assess(said, house, profile=profile, technique=technique, glass=glass)
    before = assess(spec, house)
    assert before.values == typed.values
    assert (before.technique, before.off_aim) == (typed.technique, typed.off_aim)
    place = place_for("Kedge", house, replace=True)
    write_spec(spec, place, house.root)
    after = assess(read_spec(place.path), house)
    for name in ("values", "off_aim", "technique", "glass", "aims", "limits", "guest", "assumed"):
        assert getattr(after, name) == getattr(before, name), name
    assert [(said_amount(line, house), line.part, line.top) for line in after.lines] == [
        (said_amount(line, house), line.part, line.top) for line in before.lines
    ]


def test_typed_pours_become_a_spec_that_is_written_over_only_with_a_word(bar: Path) -> None:
    line = ("assess", "2 oz gin", "1 oz dry vermouth", "--profile", "stirred", "--save", "Fairlead")
    first = run(bar, *line, "--garnish", "lemon peel", "--approve")
    assert first.exit_code == 0, first.output
    content = (bar / "specs" / "fairlead.toml").read_text()
    assert 'garnish = "lemon peel"' in content
    assert "[approved]" in content
    again = run(bar, *line)
    assert again.exit_code == 2
    assert (bar / "specs" / "fairlead.toml").read_text() == content
    assert run(bar, *line, "--replace").exit_code == 0
    assert (bar / "specs" / "fairlead.toml").read_text() != content


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (("harbour-light", "--save", "x"), "--save goes with pours that are typed"),
        (("harbour-light", "--garnish", "x"), "--garnish goes with pours that are typed"),
        (("2 oz gin", "--approve"), "only a spec in a file can be approved"),
        (("2 oz gin", "--csv"), "--csv goes with --all"),
        (("--all", "harbour-light"), "name a DRINK, or ask for all of them"),
        (("--all", "--save", "x"), "--save goes with one DRINK"),
        ((), "name a DRINK"),
        (("2 oz gin", "--save", "x", "--notes", "\u202e"), "cannot be printed (--notes)"),
        (("2 oz gin", "--save", "Harbour Light"), "there is a spec of that name"),
        (("2 oz gin", "--save", "Harbour/Light"), "would be in the file of 'Harbour Light'"),
    ],
)
def test_what_cannot_be_saved_is_refused_before_anything_is_printed(
    bar: Path, line: tuple[str, ...], said: str
) -> None:
    before = sorted(path.name for path in (bar / "specs").iterdir())
    result = run(bar, "assess", *line)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert said in result.stderr
    assert sorted(path.name for path in (bar / "specs").iterdir()) == before


def test_a_bar_without_specs_is_told_how_to_have_one(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "Bare"\n')
    for command in (("specs",), ("assess", "--all")):
        result = run(tmp_path, *command)
        assert result.exit_code == 0
        assert "The bar has no specs" in result.output


def test_programs_are_told_of_every_spec_at_once_what_they_are_of_each() -> None:
    every = json.loads(run(DEMO, "assess", "--all", "--json").stdout)["specs"]
    assert len(every) == len([*(DEMO / "specs").glob("*.toml")])
    one = json.loads(run(DEMO, "assess", "harbour-light", "--json").stdout)
    [same] = [each for each in every if each["file"] == "harbour-light.toml"]
    assert same["pours"] == one["answer"]["pours"]
