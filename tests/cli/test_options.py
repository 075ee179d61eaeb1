"""What every command has in common: a cheap help text, and the bar named before it or after."""

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main

DEMO = str(Path(__file__).parents[2] / "demo")
HEAVY = ("jinja2", "numpy", "ortools", "pandas", "pint", "pydantic", "weasyprint")


def test_help_imports_no_solver_and_no_units() -> None:
    """Of every command, one after the other: whichever imports it first is named."""
    commands = [*([name] for name in main.commands), []]
    code = (
        "import contextlib, io, sys\n"
        "from solver.cli.main import main\n"
        f"for command in {commands}:\n"
        "    with contextlib.redirect_stdout(io.StringIO()) as said:\n"
        "        main([*command, '--help'], standalone_mode=False)\n"
        "    assert 'Options:' in said.getvalue(), command\n"
        f"    print(command, [name for name in {HEAVY} if name in sys.modules])\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.splitlines() == [f"{command} []" for command in commands]


def test_a_plain_design_imports_nothing_that_only_other_questions_need() -> None:
    others = (
        "ortools", "pint", "solver.cli.check", "solver.drinks.assess",
        "solver.explain.pareto_front", "solver.pantry.naming", "solver.search.milp.relaxation",
        "solver.show.documents.design", "solver.tasks.save",
    )  # fmt: skip
    code = (
        "import sys\n"
        "from solver.cli.main import main\n"
        "try:\n"
        f"    main(['design', 'sour', '--bar', {DEMO!r}], standalone_mode=False)\n"
        "except SystemExit as end:\n"
        "    print(end.code)\n"
        f"print([name for name in {others} if name in sys.modules])\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.splitlines()[-2:] == ["0", "[]"]


def test_an_interrupt_is_heard_before_anything_large_is_loaded() -> None:
    code = (
        "import re, sys\n"  # as the script does that installers write
        "had = set(sys.modules)\n"
        "import solver.cli.start\n"
        "print(*sorted(name for name in set(sys.modules) - had if 'solver' not in name))\n"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {name.partition(".")[0] for name in found.stdout.split()}
    assert loaded <= {"__future__", "gc", "importlib", "warnings"}


@pytest.mark.parametrize("arguments", [["--bar", DEMO, "shelf"], ["shelf", "--bar", DEMO]])
def test_the_bar_is_named_before_the_command_or_after_it(arguments: list[str]) -> None:
    result = CliRunner().invoke(main, arguments)
    assert result.exit_code == 0, result.output
    assert "rhubarb-syrup" in result.output


def test_the_bar_named_after_the_command_comes_first(tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["--bar", str(tmp_path), "shelf", "--bar", DEMO])
    assert result.exit_code == 0, result.output
    result = CliRunner().invoke(main, ["--bar", DEMO, "shelf", "--bar", str(tmp_path)])
    assert result.exit_code == 2
    assert "there is no bar" in result.output


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["desing", "sour"], "no such command 'desing'"),
        (["design", "sour", "--jsn"], "Did you mean"),
        (["--jsn", "design", "sour"], "no such option"),
        (["design"], "missing argument 'PROFILE'"),
        (["design", "sour", "--serves", "many"], "'many' is not a valid whole number"),
        (["design", "sour", "--serves", "0"], "is not in the range"),
        (["design", "sour", "--time-limit", "nan"], "not a valid number of seconds"),
        (["design", "sour", "--glass", ""], "it is empty"),
        (["assess", "harbour-light", "--profile", " "], "it is empty"),
        (["assess", "harbour-light", "--technique", ""], "it is empty"),
        (["prep", "rhubarb-syrup", "--made", "May"], "is not a day like"),
    ],
)
def test_a_slip_in_the_options_is_one_sentence_and_names_the_help_text(
    arguments: list[str], said: str
) -> None:
    result = CliRunner().invoke(main, arguments, prog_name="equipour")
    assert result.exit_code == 2
    assert result.stderr.startswith("equipour: ")
    assert said in result.stderr
    assert result.stderr.count("\n") == 1
    assert result.stderr.rstrip().endswith("--help.")


@pytest.mark.parametrize(
    "words",
    [
        "design sour --goal cheapest --goal lightest",
        "stock in gin=1 --on 2026-05-08 --on=2026-05-09",
        "shelf add gin --price 3 --price 4",
    ],
)
def test_what_can_be_said_once_is_not_forgotten_when_it_is_said_twice(words: str) -> None:
    result = CliRunner().invoke(main, ["--bar", DEMO, *words.split()])
    assert result.exit_code == 2
    assert "is given twice" in result.output


def test_a_word_that_only_looks_like_an_option_is_not_counted() -> None:
    asked = [
        "--bar",
        DEMO,
        "assess",
        "2 oz gin",
        "--technique",
        "stir",
        "--",
        "1 oz sweet vermouth",
    ]
    assert CliRunner().invoke(main, asked).exit_code == 0


def test_a_measure_has_limits_and_one_aim() -> None:
    both = ["--bar", DEMO, "design", "sour", "--abv", "17%"]
    assert CliRunner().invoke(main, [*both, "--abv", "<=18%"]).exit_code == 0
    refused = CliRunner().invoke(main, [*both, "--abv", "12%"])
    assert refused.exit_code == 2
    assert "the strength cannot be both 12% and 17%" in refused.output
    none = CliRunner().invoke(main, [*both, "--abv", "0%"])
    assert "the strength cannot be both 0% and 17%" in none.output
