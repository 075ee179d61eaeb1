"""Completing names in a shell: profiles, ingredients, specs, glasses; without the solver."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from click.shell_completion import ShellComplete

from solver.cli.main import main
from tests.cli.test_options import DEMO, HEAVY


def offered(*arguments: str) -> list[str]:
    *before, incomplete = arguments
    shell = ShellComplete(main, {}, "equipour", "_EQUIPOUR_COMPLETE")
    return [item.value for item in shell.get_completions(before, incomplete)]


@pytest.mark.parametrize("before", [("--bar", DEMO, "design"), ("design", "--bar", DEMO)])
def test_profiles_are_offered_the_bar_s_own_among_them(before: tuple[str, ...]) -> None:
    assert {"sour", "stirred", "bollard-sour"} <= set(offered(*before, ""))
    assert offered(*before, "Boll") == ["bollard-sour"]


@pytest.mark.parametrize(
    ("arguments", "name"),
    [
        (("design", "sour", "--with", "rhub"), "rhubarb-syrup"),
        (("design", "sour", "--with", "rye"), "rye-whiskey"),
        (("design", "sour", "--without", "eg"), "egg"),
        (("design", "sour", "--without", "spirit/r"), "spirit/rum"),
        (("design", "sour", "--character", "smo"), "smoke"),
        (("design", "sour", "--no-character", "bit"), "bitter"),
        (("design", "sour", "--word", "bri"), "bright"),
        (("design", "sour", "--word", "fog"), "fog-bank"),
        (("design", "sour", "--glass", "cou"), "coupe"),
        (("design", "sour", "--pour-set", "five"), "five-ml"),
        (("design", "sour", "--goal", "ch"), "cheapest"),
        (("prep", "rhub"), "rhubarb-syrup"),
        (("assess", "harb"), "harbour-light"),
        (("swap", "harb"), "harbour-light"),
        (("rebalance", "--out-of", "rye"), "rye-whiskey"),
        (("rebalance", "--set", "lime"), "lime-juice"),
        (("rebalance", "--glass", "cou"), "coupe"),
        (("swap", "harbour-light", "ry"), "rye-whiskey"),
        (("swap", "harbour-light", "rye-whiskey", "bour"), "bourbon"),
        (("assess", "--profile", "bol"), "bollard-sour"),
        (("assess", "--technique", "shake-"), "shake-egg"),
        (("ingredients", "almond-sp"), "almond-spice-syrup"),
        (("profiles", "stir"), "stirred-dry"),
        (("plan", "week"), "weekend"),
        (("plan", "harb"), "harbour-light"),
        (("check", "stirred", "--beyond", "ab"), "abv"),
    ],
)
def test_a_beginning_is_completed_to_the_name(arguments: tuple[str, ...], name: str) -> None:
    found = offered("--bar", DEMO, *arguments)
    assert name in found
    assert all(each.startswith(arguments[-1]) for each in found)


def test_everything_that_a_guest_may_avoid_is_offered() -> None:
    from solver.pantry.guest_words import guest_words

    assert set(guest_words()) <= set(offered("--bar", DEMO, "design", "sour", "--without", ""))


def test_a_glass_of_the_bar_s_own_is_offered(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('[glasses.thimble]\nwash_line = "20 ml"\n', encoding="utf-8")
    assert offered("--bar", str(tmp_path), "design", "sour", "--glass", "th") == ["thimble"]


def test_without_a_bar_the_built_in_names_are_offered(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("EQUIPOUR_BAR", raising=False)
    assert offered("design", "sour-fo") == ["sour-foam"]
    assert offered("assess", "") == []


@pytest.mark.parametrize("broken", ["bar.toml", "house/rhubarb-syrup.toml", "profiles/a.toml"])
def test_broken_files_complete_to_what_can_be_read_and_say_nothing(
    broken: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    (bar / broken).write_bytes(b"\xff= [[")
    for last in (("design", ""), ("assess", ""), ("ingredients", ""), ("assess", "--glass", "")):
        assert offered("--bar", str(bar), *last)
    assert capfd.readouterr() == ("", "")
    assert offered("--bar", str(tmp_path / "none"), "design", "sour-fo") == ["sour-foam"]


def test_completing_imports_no_solver_and_no_units() -> None:
    code = (
        "import sys\n"
        "from tests.cli.test_completion import DEMO, offered\n"
        "for last in (['design'], ['assess'], ['ingredients'], ['assess', '--glass'],"
        " ['design', 'sour', '--without']):\n"
        "    assert offered('--bar', DEMO, *last, '')\n"
        f"print([name for name in {HEAVY} if name in sys.modules])\n"
    )
    found = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    )
    assert found.stdout.strip() == "[]"


def test_what_is_no_file_and_what_cannot_be_printed_is_not_offered(tmp_path: Path) -> None:
    bar = tmp_path / "bar"
    shutil.copytree(DEMO, bar)
    (bar / "house" / "pipe.toml").mkdir()
    (bar / "specs" / "device.toml").symlink_to("/dev/zero")
    (bar / "specs" / "e\x1bvil.toml").write_text('name = "E"\n', encoding="utf-8")
    house = '["e\\u001bvil"]\nname = "x"\n[fine]\nname = "a\\u001b[31m b"\n'
    (bar / "house" / "own.toml").write_text(house, encoding="utf-8")
    assert "harbour-light" in offered("--bar", str(bar), "assess", "")
    assert offered("--bar", str(bar), "assess", "e") == []
    assert offered("--bar", str(bar), "ingredients", "e\x1b") == []
    shell = ShellComplete(main, {}, "equipour", "_EQUIPOUR_COMPLETE")
    (item,) = shell.get_completions(["--bar", str(bar), "ingredients"], "fine")
    assert item.help == "a\\x1b[31m b"


def test_what_the_bar_calls_its_bottles_is_offered_too(tmp_path: Path) -> None:
    bar = shutil.copytree(DEMO, tmp_path / "bar")
    (bar / "shelf.csv").write_text("ingredient;label\ngin;House Pour\nrye-whiskey;\n", "utf-8")
    assert offered("--bar", str(bar), "design", "sour", "--with", "house-p") == ["house-pour"]
    assert offered("--bar", str(bar), "recipe", "Foo", "--kind", "syrup/sp") == ["syrup/spice"]
