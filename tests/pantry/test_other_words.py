"""Names in another language: found where nothing here is called so, and never before that."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

import solver
from solver.errors import BadInput
from solver.pantry.library import load_library
from solver.pantry.other_words import in_english
from solver.pantry.word_forms import brief

LIBRARY = load_library()
NAMES = Path(solver.__file__).parent / "show" / "words" / "names" / "de.toml"


def test_every_name_that_a_german_page_prints_is_read_back() -> None:
    table = tomllib.loads(NAMES.read_text(encoding="utf-8"))["name"]
    astray = []
    for english, german in table.items():
        item = LIBRARY.get(english)
        own = LIBRARY.get(german)
        alike = [other for other, said in table.items() if said == german]
        same = brief(english).casefold() == brief(german).casefold()
        if item is not None and own is None and not same and in_english(german) not in alike:
            astray.append((german, in_english(german)))
    assert astray == []


def test_no_english_name_means_something_else() -> None:
    for item in LIBRARY:
        for name in (item.key, item.name, *item.aliases):
            assert LIBRARY.find(name) is LIBRARY.get(name)


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("Weisser Rum", "white-rum"), ("weißen Rum", "white-rum"), ("Rum, weiß", "white-rum"),
        ("Zucker, weiß", "white-sugar"), ("ROTER WERMUT", "sweet-vermouth"),
        ("Orangenlikoer", "orange-liqueur"), ("Orangenlikor", "orange-liqueur"),
        ("Eiweiss", "egg-white"), ("frischer Zitronensaft", "lemon-juice"),
        ("Zitronensaft", "lemon-juice"), ("Sekt", "sparkling-wine"), ("Schlagsahne", "heavy-cream"),
    ],
)  # fmt: skip
def test_a_name_in_any_form_is_found(said: str, key: str) -> None:
    assert LIBRARY.find(said).key == key


def test_what_may_be_a_spirit_or_a_spice_is_asked() -> None:
    with pytest.raises(BadInput, match="aquavit or caraway-seed"):
        LIBRARY.find("Kümmel")
    assert in_english("Hafenlicht") is None
    assert in_english("grenadin") is None  # a slip of an English name
    assert in_english("") is None
