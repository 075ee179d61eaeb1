"""A trade-off as a picture."""

from __future__ import annotations

from solver.measures import MEASURES, Form
from solver.pantry.bar import Bar
from solver.search.problem import Limit
from solver.show.pages.chart import Chart, Place, Scale, staircase
from solver.show.text.tradeoff import axis, claim, in_words, is_chosen, pours, title
from solver.tasks.tradeoff import Tradeoff, TradeoffPoint

MOST_ASIDE = 0.5
"""Share of the curve's extent by which a limit may lie beside it and still be drawn."""


def tradeoff_picture(found: Tradeoff, bar: Bar) -> str:
    """The curve as an SVG: what is within reach, what is not, the limits and what design offers.

    `found` has at least one drink.
    """
    places = [(spot.first, spot.second) for spot in found.spots]
    chosen = None if found.chosen is None else (found.chosen.first, found.chosen.second)
    drawn, beyond = _limits(found, [*places, chosen] if chosen else places)
    x, y = _scales(found, [*places, chosen] if chosen else places, drawn, bar)
    upright = [(_bound(e), e.name) for e in drawn if e.measure.name == found.between[0]]
    chart = Chart(title(found), f"{bar.name}: {claim(found)}", x, y, upright)
    top = _most(found, x, y)
    reach = staircase(places)
    chart.area([(places[0][0], top[1]), *reach, (top[0], places[-1][1]), top])
    for low, high in found.unsearched:
        chart.area([low, (high[0], low[1]), high, (low[0], high[1])], hatched=True)
    chart.axes()
    chart.line([(places[0][0], top[1]), *reach, (top[0], places[-1][1])])
    for limit in drawn:
        if limit.measure.name == found.between[1]:
            chart.level(_bound(limit), limit.name, above=limit.high is not None)
    for spot in found.spots:
        if not is_chosen(found, spot):
            chart.marker((spot.first, spot.second), _pointed_at(found, spot, bar))
    if found.chosen is not None and chosen is not None:
        chart.marker(chosen, _pointed_at(found, found.chosen, bar), chosen=True)
        chart.label(chosen, "design offers")
    _words(chart, places, top)
    _legend(chart, found, beyond, bar)
    return chart.text()


def _pointed_at(found: Tradeoff, spot: TradeoffPoint, bar: Bar) -> str:
    return f"{in_words(found, spot, bar)}: {pours(spot.answer, bar)}"


def _limits(found: Tradeoff, places: list[Place]) -> tuple[list[Limit], list[Limit]]:
    """Limits on the two measures: those near enough to be drawn, and those beyond."""
    drawn: list[Limit] = []
    beyond: list[Limit] = []
    for limit in found.design.problem.limits:
        if limit.measure.name in found.between:
            values = [place[found.between.index(limit.measure.name)] for place in places]
            extent = max(max(values) - min(values), _noticeable(limit.measure.name))
            room = MOST_ASIDE * extent
            near = min(values) - room <= _bound(limit) <= max(values) + room
            (drawn if near else beyond).append(limit)
    return drawn, beyond


def _noticeable(name: str) -> float:
    """One noticeable difference: closer than this no picture need look."""
    return MEASURES[name].noticeable if name in MEASURES else 1.0


def _bound(limit: Limit) -> float:
    """The one end that a demand has as a limit."""
    ends = [end for end in (limit.low, limit.high) if end is not None]
    return ends[0]


def _scales(
    found: Tradeoff, places: list[Place], drawn: list[Limit], bar: Bar
) -> tuple[Scale, Scale]:
    scales: list[Scale] = []
    for at, name in enumerate(found.between):
        bounds = [_bound(limit) for limit in drawn if limit.measure.name == name]
        whole = name in MEASURES and MEASURES[name].form is Form.COUNT
        label = axis(name, bar) if name in MEASURES else "off aim, noticeable differences"
        values = [place[at] for place in places] + bounds
        scales.append(Scale.around(label, values, least=_noticeable(name), whole=whole))
    return scales[0], scales[1]


def _most(found: Tradeoff, x: Scale, y: Scale) -> Place:
    """The corner up to which drinks are allowed: at a limit, or at the end of the picture."""

    def end(scale: Scale, name: str) -> float:
        limits = found.design.problem.limits
        highs = [e.high for e in limits if e.measure.name == name and e.high is not None]
        return min(scale.high, *highs) if highs else scale.high

    return end(x, found.between[0]), end(y, found.between[1])


def _words(chart: Chart, places: list[Place], top: Place) -> None:
    """What the areas are, where there is room to say it."""
    x, y = chart.x, chart.y
    origin = x.low, y.low

    def extent(low: Place, high: Place) -> float:
        return (x.share(high[0]) - x.share(low[0])) * (y.share(high[1]) - y.share(low[1]))

    # Of the rectangles that no drink, and that some drink, reaches, the largest with room.
    right, up = [*(p[0] for p in places[1:]), x.high], [p[1] for p in places]
    corners = [(places[0][0], y.high), *zip(right, up, strict=True)]
    beneath = [(origin, corner) for corner in corners]
    above = [(place, top) for place in places]
    for rectangles, says in ((beneath, "no drink of this shelf"), (above, "possible")):
        roomy = [(low, high) for low, high in rectangles if chart.room(low, high, says)]
        if roomy:
            low, high = max(roomy, key=lambda pair: extent(*pair))
            chart.words(((low[0] + high[0]) / 2, (low[1] + high[1]) / 2), says)


def _legend(chart: Chart, found: Tradeoff, beyond: list[Limit], bar: Bar) -> None:
    chart.key("shaded", "possible: some drink has no more of either")
    chart.key("empty", "no drink of this shelf within the limits")
    if found.unsearched:
        chart.key("hatched", "not searched")
    chart.key("ring", "a drink of the curve (point at it for its pours)")
    if found.chosen is not None:
        chart.key("diamond", f"what design offers: {_pointed_at(found, found.chosen, bar)}")
    if beyond:
        chart.key("none", f"Limits beyond the picture: {', '.join(each.name for each in beyond)}")
