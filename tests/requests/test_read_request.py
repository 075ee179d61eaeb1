"""The one reader of requests: text becomes numbers once, and programs can ask with numbers."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solver.cli.main import main
from solver.errors import BadInput
from solver.measures import MEASURES
from solver.quantities import Span, written
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import IngredientWish, MeasureWish
from tests.tasks.bars import demo

DEMO = Path(__file__).parents[2] / "demo"


def test_each_option_of_a_command_is_read_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    take = written.take_amount

    def counted(text: str, expected: written.Expected) -> tuple[float, str]:
        read.append(text.strip())
        return take(text, expected)

    for module in ("reading", "pours", "sizes"):
        monkeypatch.setattr(f"solver.quantities.{module}.take_amount", counted, raising=False)
    options = ["--abv", "16.93%", "--acid", "0.71..0.98 g/100ml", "--cost", "<=3.14",
               "--with", "rhubarb-syrup=14.5..23.5 ml"]  # fmt: skip
    result = CliRunner().invoke(main, ["--bar", str(DEMO), "design", "sour", *options, "--why"])
    assert result.exit_code == 0, result.output
    for number in ("16.93", "0.71", "0.98", "3.14", "14.5", "23.5"):
        assert sum(number in text for text in read) == 1, number


def test_what_is_read_is_numbers_and_keys() -> None:
    wish = WrittenRequest(
        measures={"abv": ("17%",)}, wanted=("lime=30 ml",), standard_drinks=("1.5",)
    )
    request = read_request(wish, demo())
    aim, limit = request.measures
    assert aim == MeasureWish(MEASURES["abv"], Span(aim=17.0))
    assert limit.measure is MEASURES["ethanol"]
    assert limit.span == Span(high=18.0)  # Germany: 12 g each
    (lime,) = request.wanted
    assert isinstance(lime, IngredientWish)
    assert lime.key == "lime-juice"
    assert lime.span is not None
    assert (lime.span.low, lime.span.high) == (30.0, 30.0)


@pytest.mark.parametrize(
    ("wish", "says"),
    [
        (WrittenRequest(beyond=("abvv",)), "'abvv' is not a measure"),
        (WrittenRequest(character=("smoek",)), "'smoek' is not a character known here"),
        (WrittenRequest(measures={"abv": ("17 ml",)}), "17 ml"),
        (WrittenRequest(wanted=("nothing-like-it",)), "nothing-like-it"),
    ],
)
def test_what_is_not_known_is_a_mistake(wish: WrittenRequest, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        read_request(wish, demo())
