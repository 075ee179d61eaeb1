"""Charts: ticks that can be read, and files that any reader of SVG can read."""

import itertools
import xml.etree.ElementTree as ET

from hypothesis import example, given
from hypothesis import strategies as st

from solver.show.pages.chart import MARK, Chart, Scale, staircase

SVG = "{http://www.w3.org/2000/svg}"
values = st.lists(st.floats(0, 1e6).map(lambda value: round(value, 6)), min_size=1, max_size=6)
text = st.text(max_size=30)


@given(values, st.booleans())
@example([0.0], False)
@example([3.0, 4.0], True)
def test_ticks_are_few_and_round_and_lie_on_the_axis(known: list[float], whole: bool) -> None:
    scale = Scale.around("x", known, whole=whole)
    assert all(scale.low < value < scale.high or value == scale.low == 0 for value in known)
    ticks = scale.ticks()
    assert 1 <= len(ticks) <= 9
    assert len({said for _, said in ticks}) == len(ticks)
    for value, said in ticks:
        assert scale.low - 1e-6 * scale.high <= value <= scale.high * (1 + 1e-6)
        assert abs(float(said) - value) <= 1e-6 * scale.high
        assert not whole or float(said).is_integer()


@given(values, st.floats(0.1, 1e3))
def test_an_axis_is_no_shorter_than_asked_for(known: list[float], least: float) -> None:
    scale = Scale.around("x", known, least=least)
    beyond_zero = max(0.0, least / 2 - min(known))
    assert scale.high - scale.low >= least * (1 - 1e-6) - beyond_zero
    assert scale.low <= min(known) <= max(known) <= scale.high


def test_ticks_are_written_with_as_many_decimals_as_they_need() -> None:
    def written(low: float, high: float) -> str:
        return " ".join(said for _, said in Scale("x", low, high).ticks())

    assert written(1.0, 2.0) == "1.0 1.2 1.4 1.6 1.8 2.0"
    assert written(0.0, 100.0) == "0 20 40 60 80 100"
    assert written(0.9, 2.7) == "1.00 1.25 1.50 1.75 2.00 2.25 2.50"


@given(values)
def test_a_staircase_goes_along_before_it_goes_down(known: list[float]) -> None:
    places = list(zip(sorted(known), sorted(known, reverse=True), strict=True))
    corners = staircase(places)
    assert corners[0] == places[0]
    assert corners[-1] == places[-1]
    assert set(places) <= set(corners)
    for (x, y), (onward, below) in itertools.pairwise(corners):
        assert x == onward or y == below
        assert onward >= x
        assert below <= y


@given(text, text, text)
@example("a & <b> \x00\x1b", "\udcff", '"')
def test_any_words_make_a_file_that_can_be_read(title: str, says: str, name: str) -> None:
    chart = Chart(title, says, Scale(name, 0, 1), Scale(name, 0, 1), [(0.5, name)])
    chart.axes()
    chart.level(0.5, name, above=True)
    chart.marker((0.2, 0.3), name)
    chart.label((0.2, 0.3), name)
    chart.key("ring", name)
    drawn = chart.text()
    assert drawn.startswith(MARK)
    root = ET.fromstring(drawn.encode())  # noqa: S314
    marker = next(root.iter(f"{SVG}circle"))
    assert len(marker.findtext(f"{SVG}title", "")) == len(name)


def test_the_picture_is_as_high_as_its_legend_needs() -> None:
    heights = []
    for lines in (0, 5):
        chart = Chart("t", "s", Scale("x", 0, 1), Scale("y", 0, 1))
        for _ in range(lines):
            chart.key("empty", "nothing")
        root = ET.fromstring(chart.text().encode())  # noqa: S314
        heights.append(int(root.get("height", "0")))
    assert heights[1] - heights[0] == 5 * 18
