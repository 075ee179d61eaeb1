"""A trade-off, as text and as a table."""

from __future__ import annotations

from typing import NamedTuple

from solver.drinks.answer import Answer
from solver.measures import MEASURES, Form
from solver.pantry.bar import Bar
from solver.show.text.characters import word_lines
from solver.show.text.design import design_text, left_out_lines
from solver.show.text.guest import DEFERS, day_line
from solver.show.text.pours import said_amount
from solver.show.text.table import csv_table
from solver.tasks.tradeoff import Tradeoff, TradeoffPoint
from solver.tasks.tradeoff_axes import IN_KEEPING, OFF_AIM

ASK_DESIGN = "With the same options, design says what stands in the way."
NOTED = "anybody would notice: --json and --picture have them all."
IS_IN_KEEPING = (
    "As in keeping: how many published drinks in a hundred are, each judged by the best of its own "
    "kind. The fewer, the more in keeping."
)
NO_TIME = "Stopped before anything of the curve was known. Try a longer --time-limit."


class _Other(NamedTuple):
    """What is no measure and can be weighed against one, as it is told."""

    label: str
    axis: str
    key: str
    decimals: int


_OTHERS = {
    OFF_AIM: _Other("distance from the aims", "off aim", "off_aim", 2),
    IN_KEEPING: _Other("being in keeping", "as in keeping, %", "published_as_in_keeping_pct", 0),
}


def tradeoff_text(found: Tradeoff, bar: Bar) -> str:
    """Every drink of the curve with its two values, what design offers, and the proof."""
    if found.design.answer is None:
        said = design_text(found.design, bar)
        return said if found.stopped else f"{said}\n{ASK_DESIGN}"
    if not found.spots:
        return NO_TIME
    heads = [axis(name, bar) for name in found.between]
    lines = [f"{title(found)}. {claim(found)}", *word_lines(found.design.words), ""]
    lines += [f"  {_columns(heads, heads)}"]
    apart = found.apart
    shown = [spot for spot in found.spots if spot in apart or is_chosen(found, spot)]
    lines += [_row(found, spot, bar, heads) for spot in shown]
    if len(shown) < len(found.spots):
        lines += [
            "",
            f"{len(found.spots) - len(shown)} more differ from these by less than {NOTED}",
        ]
    if IN_KEEPING in found.between:
        lines += ["", IS_IN_KEEPING]
    lines += ["", *_chosen_lines(found, bar), *_ending_lines(found)]
    lines += [*left_out_lines(found.design, bar), *day_line(bar)]
    lines += [f"What a guest must be told of each: --json, or assess. {DEFERS}"]
    return "\n".join(lines)


def title(found: Tradeoff) -> str:
    """What is weighed against what."""
    one, other = (
        "distance from what it is" if name == OFF_AIM and _of_spec(found) else _label(name)
        for name in found.between
    )
    return f"{found.design.profile.name}: {one} against {other}"


def _of_spec(found: Tradeoff) -> bool:
    """Whether it is of the lines of a spec, and not of a profile."""
    return found.design.profile.of_spec


def claim(found: Tradeoff) -> str:
    """How many drinks there are on the curve, and what that means."""
    if len(found.spots) == 1:
        return "One drink has the least of both."
    count = f"{len(found.spots)} drinks"
    if IN_KEEPING in found.between:
        other = next(name for name in found.between if name != IN_KEEPING)
        return f"{count}: the one with less {_label(other)} is always less in keeping."
    return f"{count}, of which less of one is always more of the other."


def _label(name: str) -> str:
    return MEASURES[name].label if name in MEASURES else _OTHERS[name].label


def axis(name: str, bar: Bar) -> str:
    """A measure with its unit, short."""
    if name not in MEASURES:
        return _OTHERS[name].axis
    measure = MEASURES[name]
    unit = bar.currency if measure.form is Form.COST else measure.unit
    return f"{measure.label}, {unit}" if unit else measure.label


def _said(name: str, value: float) -> str:
    """A value with the decimals that tell drinks apart."""
    decimals = (MEASURES if name in MEASURES else _OTHERS)[name].decimals
    return f"{value:.{decimals}f}"


def _columns(heads: list[str], said: list[str]) -> str:
    return "  ".join(f"{each:>{max(8, len(head))}}" for head, each in zip(heads, said, strict=True))


def _row(found: Tradeoff, spot: TradeoffPoint, bar: Bar, heads: list[str]) -> str:
    mark = "*" if is_chosen(found, spot) else " "
    return f"  {_columns(heads, _values(found, spot))} {mark} {pours(spot.answer, bar)}"


def _values(found: Tradeoff, spot: TradeoffPoint) -> list[str]:
    pair = zip(found.between, (spot.first, spot.second), strict=True)
    return [_said(name, value) for name, value in pair]


def pours(answer: Answer, bar: Bar) -> str:
    """A spec in a line."""
    return ", ".join(f"{said_amount(p, bar)} {p.ingredient.name}" for p in answer.pours)


def is_chosen(found: Tradeoff, spot: TradeoffPoint) -> bool:
    """Whether a drink of the curve is the one that design offers."""
    return found.chosen is not None and spot.answer.pours == found.chosen.answer.pours


def in_words(found: Tradeoff, spot: TradeoffPoint, bar: Bar) -> str:
    """Both values with their units: "cost 1.91 EUR, off aim 1.12"."""
    said = []
    for name, value in zip(found.between, _values(found, spot), strict=True):
        label, _, unit = axis(name, bar).partition(", ")
        said.append(f"{label} {value} {unit}".rstrip())
    return ", ".join(said)


def _chosen_lines(found: Tradeoff, bar: Bar) -> list[str]:
    """What design offers, and if it is beside the curve what is better."""
    chosen = found.chosen
    if chosen is None:
        return []
    offered = "The nearest to the spec" if _of_spec(found) else "What design offers"
    if any(is_chosen(found, spot) for spot in found.spots):
        return [f"* {offered}."]
    lines = [f"{offered} ({in_words(found, chosen, bar)}): {pours(chosen.answer, bar)}"]
    better = [s for s in found.spots if s.first <= chosen.first and s.second <= chosen.second]
    if better and _values(found, better[0]) != _values(found, chosen):
        more = len(better[0].answer.pours) - len(chosen.answer.pours)
        takes = f", and takes {more} more ingredient{'s' * (more > 1)}" if more > 0 else ""
        less = "is no less in keeping" if IN_KEEPING in found.between else "has no more of either"
        lines.append(f"That with {in_words(found, better[0], bar)} {less}{takes}.")
    return lines


def _ending_lines(found: Tradeoff) -> list[str]:
    """How far the curve is known, and who says so."""
    lines: list[str] = []
    if found.stopped:
        lines.append("Stopped before the whole curve was known: there may be more drinks on it.")
    elif not found.complete:
        lines.append("There may be more between these: ask for more --points.")
    lines.append(_proof(found))
    return lines


def _proof(found: Tradeoff) -> str:
    took = f"{found.seconds:.2f} s"
    if found.tolerance is not None:
        by = f"to within {found.tolerance:g} noticeable differences by {found.solver}"
        return f"Proven {by}, {took}."
    if found.compared is None:
        return f"Proven: for each, what is more in keeping cannot be poured with as little, {took}."
    count = f"all {found.compared:,} ways to pour it from the shelf were compared"
    return f"Proven: {count}, for each of these anew, {took}."


def tradeoff_csv(found: Tradeoff, bar: Bar) -> str:
    """Every drink of the curve: both values, whether design offers it, and its pours."""
    heads = (*map(axis_key, found.between), "chosen", "drink")
    return csv_table(
        heads,
        (
            (spot.first, spot.second, is_chosen(found, spot), pours(spot.answer, bar))
            for spot in found.spots
        ),
    )


def axis_key(name: str) -> str:
    """The key of an axis in documents."""
    return MEASURES[name].key if name in MEASURES else _OTHERS[name].key
