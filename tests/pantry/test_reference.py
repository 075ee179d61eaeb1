"""The reference of files: every key that a reader takes is in it, with a sentence."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pydantic import BaseModel

from solver.cli.main import main
from solver.files.checked import NOT_WRITTEN, Model, model_in
from solver.pantry.bar_remarks import Opinions
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.recipe import Dish
from solver.pantry.reference import FILES, FileWords, TableWords, find_file, lists, raw_needs
from solver.pantry.shelf_row import COLUMNS

ROOT = Path(__file__).parents[2]
TABLES = [
    pytest.param(file, table, id=f"{file.name} {table.header or table.says}")
    for file in FILES
    for table in file.tables
]
MODELS = {table.model for file in FILES for table in file.tables}


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["help", *arguments])


@pytest.mark.parametrize(("file", "table"), TABLES)
def test_every_key_has_a_sentence_and_what_it_holds(file: FileWords, table: TableWords) -> None:
    assert table.keys, file.name
    for key in table.keys:
        assert key.says.endswith("."), key
        assert key.says[0].isupper(), key
        assert key.holds, key
        assert not {"Annotated", "tuple", "None", "["} & set(key.holds.split()), key


@pytest.mark.parametrize(("file", "table"), TABLES)
def test_a_key_is_told_or_is_a_table_that_is(file: FileWords, table: TableWords) -> None:
    told = {key.name for key in table.keys}
    for name, field in table.model.model_fields.items():
        if (field.alias or name) in told or name in NOT_WRITTEN:
            continue
        inner = model_in(field.annotation)
        in_header = "NAME" in table.header and name == "name"
        assert in_header or inner in MODELS, f"{file.name}: {name}"


def test_every_table_within_a_table_is_told() -> None:
    inner: set[type[BaseModel] | None] = {
        model_in(field.annotation) for model in MODELS for field in model.model_fields.values()
    }
    assert inner - {None} <= MODELS
    assert all(issubclass(model, Model) for model in MODELS)
    assert set(Dish.model_fields) - {"key"} <= set(Ingredient.model_fields)


def test_what_the_files_of_the_demonstration_use_is_in_it() -> None:
    texts = {file.name: run(file.name).stdout for file in FILES}
    for folder in ("specs", "profiles", "house", "plans"):
        for path in (ROOT / "demo" / folder).glob("*.toml"):
            for key, value in tomllib.loads(path.read_text(encoding="utf-8")).items():
                words = value if folder == "house" else {key: value}
                for word in words:
                    assert f"{word}" in texts[f"{folder}/"], f"{path.name}: {word}"
    for key, value in tomllib.loads((ROOT / "demo" / "words.toml").read_text("utf-8")).items():
        assert all(word in texts["words.toml"] for word in value), key
    for column in COLUMNS:
        assert f"    {column}: " in texts["shelf.csv"]


def test_a_figure_has_its_unit_and_the_bar_s_opinions_come_last() -> None:
    (table,) = (t for f in FILES for t in f.tables if t.model is Ingredient)
    keys = {key.name: key for key in table.keys}
    assert keys["abv"].holds == "a figure in pct"
    assert keys["sugar"].holds == "a figure in g_100ml (g_100g of what is weighed)"
    assert keys["moisture"].holds == "a figure in g_100g"
    assert not keys["tool"].required
    assert table.keys[0].name == "name"
    assert [key.name for key in table.keys[-len(Opinions.model_fields) :]] == [
        *Opinions.model_fields
    ]
    assert {key.name for t in FILES[2].tables if t.model is Figure for key in t.keys} == {
        "low",
        "high",
        "basis",
        "source",
    }


def test_a_plan_s_tables_by_name_say_what_they_hold() -> None:
    said = run("plans/").stdout
    assert "use_up: a table of dates, without quotes, like 2026-03-31\n" in said
    assert "cook_on: a list of weekdays\n" in said


def test_what_raw_stuff_needs_is_what_its_reader_asks_for() -> None:
    assert [need.name for need in raw_needs()] == ["abv", "sugar", "acid", "moisture", "insoluble"]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_a_file_is_found_by_any_of_its_names(file: FileWords) -> None:
    assert find_file(file.name) is file
    assert find_file(file.name.upper()) is file
    assert find_file(file.name.rstrip("/")) is file
    assert run(file.name).stdout.startswith(f"{file.name}: ")


def test_all_files_are_a_page_and_a_document(tmp_path: Path) -> None:
    page = run("FILES", "--markdown").stdout
    for file in FILES:
        assert f"## `{file.name}`" in page
    widths = {line.count("|") for line in page.splitlines() if line.startswith("| `")}
    assert widths == {3, 4, 5}
    document = json.loads(run("files", "--json").stdout)
    assert [file["file"] for file in document["files"]] == [file.name for file in FILES]
    assert set(document["lists"]) == set(lists())
    path = tmp_path / "files.md"
    assert run("files", "--markdown", "--output", str(path)).exit_code == 0
    assert path.read_text(encoding="utf-8") == page
    assert run("files", "--markdown", "--output", str(path)).exit_code == 2


@pytest.mark.parametrize("name", [["design"], ["shelf", "add"], ["profiles"], ["help"]])
def test_help_on_a_command_is_its_own(name: list[str]) -> None:
    own = CliRunner().invoke(main, [*name, "--help"], prog_name="equipour").stdout
    said = CliRunner().invoke(main, ["help", *name], prog_name="equipour").stdout
    assert said.startswith(own.rstrip())


def test_a_command_called_as_a_folder_says_where_its_files_are_told() -> None:
    folders = {file.name.rstrip("/") for file in FILES if file.name.endswith("/")}
    for name in folders & set(main.commands):
        assert run(name).stdout.rstrip().endswith(f"equipour help {name}/")


def test_what_there_is_no_help_on_is_said_with_what_is_near() -> None:
    assert "Did you mean design" in run("desing").stderr
    assert run("desing").exit_code == 2
    assert "help on a command" in run().stdout.casefold()
    assert "syrup/fruit" in run("words").stdout
    assert run("design", "--json").exit_code == 2
