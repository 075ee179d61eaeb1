"""Names with umlauts and accents are found in plain letters, and everyday German is understood."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.word_forms import spelt_so

SPEC = """name = "Nebelkürbis"
technique = "stir"
[[pours]]
ingredient = "kraeuterlikoer"
amount = "30 ml"
[[pours]]
ingredient = "gin"
amount = "30 ml"
"""


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    (tmp_path / "bar.toml").write_text('name = "b"\ncurrency = "EUR"\n', encoding="utf-8")
    shelf = "ingredient,label\ngin,\namaro,Kräuterlikör\n"
    (tmp_path / "shelf.csv").write_text(shelf, encoding="utf-8")
    (tmp_path / "specs").mkdir()
    (tmp_path / "specs" / "nebelkürbis.toml").write_text(SPEC, encoding="utf-8")
    return tmp_path


def run(bar: Path, *arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", str(bar)])


@pytest.mark.parametrize("name", ["nebelkuerbis", "NEBELKURBIS", "nebelkürbis", "Nebelkürbis"])
def test_specs_are_found_in_plain_letters(bar: Path, name: str) -> None:
    for command in ("card", "assess", "check", "scale"):
        more = ("--volume", "120 ml") if command == "scale" else ()
        result = run(bar, command, name, *more)
        assert result.exit_code in (0, 1), result.output
        assert "Kräuterlikör" in result.stdout


def test_what_two_are_called_is_none_of_them() -> None:
    names = ["Kürbis", "Kuerbis", "Süß", "gin"]
    assert spelt_so("kuerbis", names) is None
    assert spelt_so("suess", names) == "Süß"
    assert spelt_so("suss", names) == "Süß"
    assert spelt_so("jin", names) is None


def test_ingredients_are_found_in_plain_letters(bar: Path) -> None:
    library = load_bar(bar).library
    for name in ("kraeuterlikoer", "Krauterlikor", "kräuterlikör"):
        assert library.find(name).key == "amaro"
    assert "krauterlikorr" not in library


GERMAN = {
    "Milch": "milk", "Nüsse": "nuts", "nuesse": "nuts", "schwanger": "pregnant", "Ei": "egg",
    "Fisch": "fish", "Honig": "honey", "Alkohol": "booze", "vegetarisch": "vegetarian",
    "Erdnüsse": "peanut", "Sellerie": "celery", "Senf": "mustard", "Sesam": "sesame",
    "Krebstiere": "crustaceans", "Weichtiere": "molluscs", "Lupinen": "lupin", "Soja": "soy",
    "Sulfite": "sulphites", "Weizen": "gluten", "glutenfrei": "gluten", "ohne Sahne": "milk",
}  # fmt: skip


@pytest.mark.parametrize(("said", "key"), GERMAN.items())
def test_a_guest_may_say_it_in_german(builtin: Bar, said: str, key: str) -> None:
    german, english = builtin.avoidable.word(said), builtin.avoidable.word(key)
    assert (german.allergens, german.animal) == (english.allergens, english.animal)
    assert (german.alcohol, german.declare) == (english.alcohol, english.declare)
    assert german.keys >= english.keys


def test_several_are_said_at_once_and_what_nobody_knows_is_refused(builtin: Bar) -> None:
    both = builtin.avoidable.word("Milch und Nüsse")
    assert both.allergens == {"milk", "nuts"}
    with pytest.raises(BadInput):
        builtin.avoidable.word("Milch und Quatsch")


@pytest.fixture(scope="module")
def builtin() -> Bar:
    return load_bar(None)
