"""Other names that a profile answers to."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.library import load_library, slug
from solver.pantry.profile_files import find_profile, load_profiles, profile_files, profile_key


def run(*arguments: str) -> str:
    done = CliRunner().invoke(main, list(arguments))
    assert done.exit_code == 0, done.output
    return done.stdout


def test_a_profile_answers_to_its_other_names() -> None:
    files = profile_files()
    assert find_profile("Mule", files).name == "buck"
    assert find_profile("hot  toddy", files).name == "toddy"
    assert profile_key("nothing of the sort", files) is None
    assert "also called mule" in run("profiles", "mule")
    assert run("design", "mule").startswith("buck: ")


def test_no_name_means_two_profiles_and_none_is_inherited() -> None:
    found = [slug(name) for each in load_profiles() for name in (each.name, *each.aliases)]
    assert len(found) == len(set(found))


def test_a_profile_of_the_bar_by_that_name_comes_first(tmp_path: Path) -> None:
    text = 'inherits = "buck"\nname = "mule"\nsays = "ours"\n'
    (tmp_path / "mule.toml").write_text(text, encoding="utf-8")
    found = find_profile("mule", profile_files(tmp_path))
    assert (found.name, found.aliases) == ("mule", ())


def test_everyday_names_of_bottles_are_found() -> None:
    library = load_library()
    for name, key in (
        ("red bitter aperitivo", "red-bitter"),
        ("triple sec", "orange-liqueur"),
        ("Islay single malt", "peated-scotch"),
        ("whole eggs", "whole-egg"),
    ):
        assert library.find(name).key == key
        assert f"[{key}]" in run("ingredients", *name.split())
    assert "red-bitter" in library.near("aperitivo")
