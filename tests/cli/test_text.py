"""The text of an answer: plain, within the width, numbers whole."""

import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from solver.cli.main import main
from solver.show.text.wrap import wrapped
from tests.open_bars import OPEN

ROOT = Path(__file__).parents[2]
DEMO = str(ROOT / "demo")
LONG_DRINK = ("design", "highball", "--with", "gin", "--with", "tonic-water", "--bottles", "<=2")
EXPECTED = """\
highball: built on ice, then topped, in a highball glass

            2 oz  gin, London dry style
        3 1/2 oz  tonic water
            with  lime wedge

In the glass:
  strength     14.0 % vol     aim 8..14           limits 7..17
  sugar         5.2 g/100 mL                      at most 9
  acid         0.23 g/100 mL                      at most 0.7
  volume        185 mL        aim 150..240        limits 140..200
  alcohol      20.4 g
  cost         2.29 EUR

On target.
Gin, London dry style with tonic water: usual in such drinks, by common
  practice.
Standard drinks (Germany, 12 g): 1.7
Allergens: none stated
Of animal origin: none stated
Declare: quinine
Caution: Contains quinine: name it to the guest. It can harm people who are
  pregnant, sensitive to quinine, or have heart-rhythm trouble or G6PD
  deficiency.
Labels, local rules and licensed practice come before what is said here.

"""


def run(*arguments: str, **environment: str) -> str:
    result = CliRunner().invoke(main, [*arguments, "--bar", DEMO], env=environment, obj=OPEN)
    assert result.exit_code == 0, result.output
    return result.output


def test_a_design_reads_like_this_at_80_columns() -> None:
    output = run(*LONG_DRINK)
    assert output.startswith(EXPECTED)
    assert output.removeprefix(EXPECTED).startswith("No set of ingredients")


@pytest.mark.parametrize("columns", ["80", "60", "44"])
@pytest.mark.parametrize("command", [LONG_DRINK, ("assess", "last-ferry"), ("profiles", "spritz")])
def test_lines_keep_to_the_width_and_hold_no_colour(command: tuple[str, ...], columns: str) -> None:
    output = run(*command, COLUMNS=columns, FORCE_COLOR="1")
    assert max(map(len, output.splitlines())) <= int(columns)
    assert "\x1b" not in output


def test_a_pipe_has_80_columns_and_no_colour() -> None:
    code = "from solver.cli.main import main; main(prog_name='equipour')"
    command = [sys.executable, "-c", code, "assess", "last-ferry", "--bar", DEMO]
    output = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT).stdout
    assert max(map(len, output.splitlines())) <= 80
    assert "\x1b" not in output


numbers = st.sampled_from(
    ["2 oz", "1 1/2 oz", "17.5 % vol", "22.5 mL", "0.85 g/100 mL", "3 dashes", "1/2 bar spoon"]
)
words = st.text(st.characters(categories=["L", "N", "P"]), min_size=1, max_size=30)


@given(st.lists(numbers | words, min_size=1, max_size=30), st.integers(20, 100))
def test_a_wrapped_text_says_the_same_and_keeps_every_number_with_its_unit(
    said: list[str], width: int
) -> None:
    text = " ".join(said)
    lines = wrapped(text, width).split("\n")
    assert " ".join(line.strip() for line in lines) == text
    for line in lines:
        # A word that fills a line may stand further in.
        whole = re.search(rf"\S{{{width - 1},}}", line)
        assert len(line) <= width or whole or _all_numbers(line)
    for number in filter(lambda each: re.match("[0-9./]+ ", each), said):
        assert any(number in line for line in lines)


def _all_numbers(line: str) -> bool:
    """Whether a line is too long only because it holds a run of numbers and units."""
    return len(line.strip().split(" ")) > 1 and bool(re.search(r"\d ", line))


def test_a_line_that_goes_on_is_indented_below_its_beginning() -> None:
    assert wrapped("  one two three four five", 16).split("\n") == [
        "  one two three",
        "    four five",
    ]
