"""A new bar: whatever is answered, it loads at once, and nothing that is there is written over."""

from __future__ import annotations

import itertools
import json
import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli import terminal
from solver.cli.main import main
from solver.errors import BadInput
from solver.files import disk
from solver.pantry.bar_file import read_bar_file
from solver.pantry.defaults import load_defaults
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import load_profiles
from solver.pantry.spec import read_specs
from solver.tasks.new_bar import Choices, country_called, new_bar, texts_of

COUNTRIES = tuple(load_defaults().jurisdictions)
POUR_SETS = tuple(load_defaults().pour_sets)
FILES = {"bar.toml", "shelf.csv", "house/ginger-syrup.toml", "specs/first-sour.toml"}


def run(*arguments: str, typed: str | None = None) -> Result:
    return CliRunner().invoke(main, list(arguments), input=typed)


def opened(folder: Path, pour_set: str, currency: str, country: str) -> None:
    with new_bar(folder, Choices(pour_set, currency, country)) as (_, put):
        put()


def files_in(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("pour_set", POUR_SETS)
def test_a_new_bar_passes_every_reader(tmp_path: Path, pour_set: str) -> None:
    opened(tmp_path / "bar", pour_set, "EUR", "Germany")
    assert files_in(tmp_path / "bar") == FILES
    bar = load_bar(tmp_path / "bar")
    assert list(bar.recipes) == ["ginger-syrup"]
    assert load_profiles(bar.profiles)
    (spec,) = read_specs(bar.specs)
    poured = spec.poured(bar.library, bar.measures)
    assert all(bar.stocked(pour.ingredient.key) for pour in poured)
    assert all(row.price is None and row.on_hand is None for row in bar.listed)


@pytest.mark.parametrize("pour_set", POUR_SETS)
def test_its_settings_are_what_was_answered_whatever_that_is(tmp_path: Path, pour_set: str) -> None:
    usual = texts_of(tmp_path, Choices(pour_set, "EUR", "Germany"))
    path = tmp_path / "bar.toml"
    for country, currency in itertools.product(COUNTRIES, ["", "EUR"]):
        texts = texts_of(tmp_path, Choices(pour_set, currency, country))
        path.write_text(texts["bar.toml"], encoding="utf-8")
        settings = read_bar_file(path)
        assert settings.pour_set.name == pour_set
        assert settings.show == settings.pour_set.unit
        assert (settings.currency, settings.jurisdiction.name) == (currency, country)
        assert {**texts, "bar.toml": ""} == {**usual, "bar.toml": ""}  # the rest does not depend


@pytest.mark.parametrize("pour_set", POUR_SETS)
def test_what_a_new_bar_is_asked_first_is_answered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, pour_set: str
) -> None:
    monkeypatch.chdir(tmp_path)
    said = run("init", "our bar", "--pour-set", pour_set)
    assert said.exit_code == 0, said.output
    commands = re.findall(r"^  (equipour .*?)  +#", said.stdout, flags=re.MULTILINE)
    assert len(commands) == 4
    assert "  cd 'our bar'" in said.stdout
    monkeypatch.chdir(tmp_path / "our bar")
    for command in (*commands, "equipour prep ginger-syrup", "equipour assess first-sour"):
        arguments = shlex.split(command)[1:]
        result = run(*arguments)
        assert result.exit_code == 0, f"{command}\n{result.output}"
    assert "On target." in run("design", "sour").output


def test_every_line_that_waits_to_be_used_can_be(tmp_path: Path) -> None:
    opened(tmp_path / "bar", "five-ml", "EUR", "Germany")
    for path in (tmp_path / "bar").rglob("*.toml"):
        text = path.read_text(encoding="utf-8")
        used = re.sub(r"^#(?=\S)", "", text, flags=re.MULTILINE)
        assert used != text, path
        path.write_text(used, encoding="utf-8")
    bar = load_bar(tmp_path / "bar")
    assert bar.measures.dash_ml == pytest.approx(0.9)
    assert bar.glass("coupe").wash_line_ml == pytest.approx(175)
    assert set(bar.weighed) == {"stir"}
    assert bar.recipes["ginger-syrup"].table.measured.brix == "52 Brix"
    assert read_specs(bar.specs)[0].notes


def test_what_is_not_said_is_taken_by_the_country_and_told(tmp_path: Path) -> None:
    result = run("init", str(tmp_path / "bar"), "--country", "united kingdom")
    assert "United Kingdom, prices in GBP, a jigger with 5 mL steps" in result.stdout
    assert "Germany" not in result.stdout
    document = json.loads(run("init", str(tmp_path / "other"), "--json").stdout)
    assert document["country"] == "United States"
    assert document["pour_set"] == "quarter-ounce"
    assert document["currency"] == "USD"
    assert set(document["written"]) == FILES


def test_four_questions_are_asked_again_until_they_can_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(terminal, "is_there", lambda: True)
    typed = "Ruritania\nfrance\nmoney\n\nlitres\noz\nfive-ml\neighth-ounce\n"
    result = run("init", str(tmp_path / "bar"), typed=typed)
    assert result.exit_code == 0, result.output
    for said in ("Say 'elsewhere'", "not a currency", "Write oz or ml", "measures in ml"):
        assert said in result.stderr
    bar = load_bar(tmp_path / "bar")
    assert (bar.jurisdiction, bar.currency, bar.pour_set.name) == ("France", "EUR", "eighth-ounce")


def test_nothing_is_asked_where_all_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(terminal, "is_there", lambda: True)
    all_said = ("--country", "elsewhere", "--currency", "eur", "--pour-set", "five-ml")
    assert run("init", str(tmp_path / "bar"), *all_said, typed="").exit_code == 0
    assert run("init", str(tmp_path / "other"), "--yes", typed="").exit_code == 0


def test_a_bar_that_is_there_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text("mine", encoding="utf-8")
    result = run("init", str(tmp_path))
    assert result.exit_code == 2
    assert "there is a bar already" in result.stderr
    assert files_in(tmp_path) == {"bar.toml"}
    assert (tmp_path / "bar.toml").read_text(encoding="utf-8") == "mine"


def test_a_shelf_that_is_there_is_kept_and_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf = "ingredient;bottle\ngin;700 ml\n"
    (tmp_path / "shelf.csv").write_text(shelf, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    refused = run("design", "sour")
    assert refused.exit_code == 2
    assert "`equipour init .` writes bar.toml beside it." in refused.stderr
    result = run("init", ".")
    assert "Already there, and left as it was: shelf.csv." in result.stdout
    assert (tmp_path / "shelf.csv").read_text(encoding="utf-8") == shelf
    assert [row.ingredient.key for row in load_bar(tmp_path).listed] == ["gin"]


@pytest.mark.parametrize("name", ["create", "put_first"])
def test_where_the_disk_refuses_nothing_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk, name, refuse)
    with pytest.raises(BadInput) as failed:
        opened(tmp_path / "bar", "five-ml", "EUR", "Germany")
    assert failed.value.exit_code == 74
    assert not (tmp_path / "bar").exists()


@pytest.mark.parametrize("name", ['a "quoted" bar', "b\\ar", "Café ☕", "$bar", "a = 1 # b"])
def test_a_bar_is_called_as_its_folder_is(tmp_path: Path, name: str) -> None:
    opened(tmp_path / name, "five-ml", "EUR", "Germany")
    assert load_bar(tmp_path / name).name == name


def test_an_empty_bar_has_nothing_that_is_not_its_own(tmp_path: Path) -> None:
    said = run("init", str(tmp_path / "bar"), "--empty", "--yes")
    assert said.exit_code == 0, said.output
    assert "Its shelf is empty. Fill it:" in said.stdout
    assert files_in(tmp_path / "bar") == {"bar.toml", "shelf.csv"}
    bar = load_bar(tmp_path / "bar")
    assert not bar.recipes
    assert not bar.spec_paths
    assert {row.ingredient.key for row in bar.listed} <= {"water"}
    added = run("shelf", "add", "gin", "--size", "700ml", "--bar", str(tmp_path / "bar"))
    assert added.exit_code == 0, added.output


def test_a_country_answers_to_its_codes_and_its_own_name_and_none_to_two() -> None:
    """ISO 3166-1, alpha-2 and alpha-3, from memory."""
    codes = {
        "United States": ["USA", "US", "U.S.", "u.s.a.", "United States of America"],
        "United Kingdom": ["UK", "GB", "GBR", "england", "Great Britain"],
        "Germany": ["DE", "deu", "Deutschland"],
        "Austria": ["AT", "Österreich", "oesterreich"],
        "Switzerland": ["CH", "Schweiz", "suisse"],
    }
    for country, names in codes.items():
        assert {country_called(name) for name in names} == {country}
    said = [name for each in load_defaults().jurisdictions.values() for name in each.also]
    assert len({name.casefold() for name in said}) == len(said)
    for country, each in load_defaults().jurisdictions.items():
        assert {country_called(name) for name in (country, *each.also)} == {country}


def test_an_empty_bar_says_that_its_shelf_is_empty_and_not_nothing(tmp_path: Path) -> None:
    CliRunner().invoke(main, ["init", str(tmp_path / "bar"), "--empty", "--yes"])
    found = CliRunner().invoke(main, ["--bar", str(tmp_path / "bar"), "design", "sour"])
    assert found.exit_code == 1
    assert "More than one thing that a sour needs is not on the shelf." in found.stdout
    assert "This cannot be:" not in found.stdout
    assert "Other limits" not in found.stdout
