"""What is said of hands, ice and fruit is read as it is said."""

from __future__ import annotations

import pytest

from solver.errors import BadInput
from solver.pantry.load_bar import load_bar
from solver.requests.spread_from_words import SaidSpread, read_spread

BAR = load_bar(None)


def test_what_is_said_is_numbers_and_what_is_not_said_is_none() -> None:
    assert read_spread(None, None, (), BAR) == SaidSpread()
    said = read_spread("2 ml", "0.8..1.3", ["lime juice acid=4.8..6.3 g/100ml"], BAR)
    assert said == SaidSpread(2.0, (0.8, 1.3), {("lime-juice", "acid"): (4.8, 6.3)})
    strength = read_spread(None, None, ["gin strength=39..48%"], BAR)
    assert strength.figures == {("gin", "abv"): (39.0, 48.0)}


@pytest.mark.parametrize(
    ("melt", "figure", "why"),
    [
        ("1.1..1.3", None, "no range of melt"),
        (">=0.8", None, "two ends"),
        ("much", None, "no range of melt"),
        (None, "lime-juice", "names no figure"),
        (None, "acid=4..6 g/100ml", "names no figure"),
        (None, "lime-juice smell=4..6", "not a figure"),
        (None, "lime-juice acid=<=6 g/100ml", "two ends"),
        (None, "lime-juice acid=1..2 g/100ml", "which is not in 1..2"),
    ],
)
def test_what_cannot_be_is_refused(melt: str | None, figure: str | None, why: str) -> None:
    with pytest.raises(BadInput, match=why):
        read_spread(None, melt, [figure] if figure else [], BAR)
