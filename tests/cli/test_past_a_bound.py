"""What is asked past a profile's own bound: that is said first, with the drink that lies there."""

from __future__ import annotations

import json
import re

from click.testing import CliRunner, Result

from solver.cli.main import main
from tests.tasks.bars import DEMO, demo


def run(*line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--bar", str(DEMO)])


def test_a_lighter_highball_than_highballs_are_is_offered_past_the_bound() -> None:
    asked = ("design", "highball", "--abv", "<=3%")
    said = run(*asked)
    assert said.exit_code == 1
    words = " ".join(said.output.split())
    bound = "the strength of a highball is 7 % vol or more; 3 % vol or less was asked"
    assert bound in words
    assert words.index(bound) < words.index("To pour it, add --beyond abv:")
    # Not "down to" and "up to" at once; anything between the two is as near to both.
    assert re.search(r"with strength of [3-6]\.\d % vol to [3-6]\.\d % vol:", words)
    past = json.loads(run(*asked, "--beyond", "abv", "--json").output)
    for pour in past["answer"]["pours"]:
        assert demo().bottles.find(pour["ingredient"]).name in words


def test_a_bound_that_is_not_met_says_nothing_of_it() -> None:
    said = run("design", "bollard-sour", "--abv", "<=15%", "--acid", "<=0.6 g/100ml")
    assert "By its profile" not in said.output
