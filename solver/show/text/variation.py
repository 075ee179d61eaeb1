"""How a drink varies from one to the next, as people read it."""

from __future__ import annotations

from solver.drinks.variation import (
    AMOUNT,
    MELT,
    Judged,
    MeasureSpread,
    Stray,
    Variation,
)
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.quantities import show_number
from solver.show.text.design import after_a_gap
from solver.show.text.guest import day_line
from solver.show.text.pours import said_amount
from solver.show.text.target import target_line
from solver.show.words.names_in_a_row import listed

_WORTH_A_WORD = 0.01
"""By how large a share of the drinks something must help to be named."""
_NAMED = 4
_SEEN = 0.005
"""What is less is shown as none."""


def variation_text(found: Variation, bar: Bar) -> str:
    """How many of a hundred are as they should be, how far they spread, and what to tighten."""
    lines = [_heading(found), "", *_chance_lines(found), ""]
    beside = "off target" if found.assessed.aims else "a step off"
    lines += [f"  {'':<9}{'as written':>10}   {'nine of ten':<22}of 100, {beside}"]
    lines += [_spread_line(each) for each in found.spreads if each.high >= _SEEN]
    lines += ["", *_steadier_lines(found, bar)]
    return "\n".join([*lines, *after_a_gap(day_line(bar))])


def _heading(found: Variation) -> str:
    spec, profile = found.assessed.spec, found.assessed.profile
    against = f", held to {profile.name}" if profile else ""
    return f"{spec.name}, as hands, fruit and ice vary{against}"


def _chance_lines(found: Variation) -> list[str]:
    """Of a hundred drinks: what they are."""
    chances, lines = found.chances, []
    if chances.on_target is not None and chances.within is not None:
        beside = max(0.0, chances.within - chances.on_target)
        said = [
            f"{_of_100(chances.on_target)} on target",
            f"{_of_100(beside)} off target but within the limits",
            f"{_of_100(1 - chances.within)} outside them",
        ]
        lines.append(f"Of 100 drinks: {listed(said)}.")
    elif chances.within is not None:
        lines.append(f"Of 100 drinks: {_of_100(chances.within)} within its limits.")
    noticed = _of_100(1 - chances.alike)
    lines.append(f"A guest would notice that {noticed} of 100 are not as written.")
    if found.judged is not Judged.TARGET and found.assessed.aims:
        kept = all(met.kept is not False for met in found.assessed.limits)
        aims = [met.aim for met in found.assessed.aims]
        lines.append(f"As written: {_lower(target_line(found.assessed.values, aims, kept=kept))}")
    return lines


def _lower(sentence: str) -> str:
    return f"{sentence[:1].lower()}{sentence[1:]}"


def _of_100(share: float) -> str:
    """A share as so many of a hundred."""
    if 0 < share < 0.005:
        return "fewer than 1"
    return "none" if share == 0 else f"{100 * share:.0f}"


def _spread_line(each: MeasureSpread) -> str:
    measure = each.measure
    usual, low, high = (
        f"{value:.{measure.decimals}f}" for value in (each.usual, each.low, each.high)
    )
    span = f"{low} to {high} {measure.unit}"
    line = f"  {measure.label:<9}{usual:>10}   {span:<22}"
    said = [
        f"{_of_100(share)} {word}"
        for share, word in ((each.under, measure.less), (each.over, measure.more))
        if share >= 0.005
    ]
    return f"{line}{', '.join(said)}".rstrip()


def _steadier_lines(found: Variation, bar: Bar) -> list[str]:
    now = found.chances.of(found.judged)
    helps = [(stray, share) for stray, share in found.steadier if share - now >= _WORTH_A_WORD]
    if not found.strays:
        return ["Nothing of it varies by itself."]
    if not helps:
        nothing = "Nothing to tighten" if now >= 0.995 else "No single one of them helps by itself"
        return [f"{nothing}: {len(found.strays)} things were varied, even over their ranges."]
    lines = [f"What would steady it, and how many of 100 were then {found.judged.value}:"]
    lines += [
        f"  {_of_100(share):>3}  {held_words(stray, found, bar)} ({range_words(stray, found)})"
        for stray, share in helps[:_NAMED]
    ]
    return lines


def held_words(stray: Stray, found: Variation, bar: Bar) -> str:
    """What strays, held to what is written."""
    if stray.line is None:
        return "always the same melt"
    line = found.assessed.lines[stray.line]
    name = line.ingredient.name.partition(",")[0]
    if stray.what == AMOUNT:
        return f"always exactly {said_amount(line, bar)} of {name}"
    return f"{name} of always the same {MEASURES[stray.what].label}"


def range_words(stray: Stray, found: Variation) -> str:
    """How far it strays."""
    if stray.what == MELT:
        return f"now {stray.low:.2g} to {stray.high:.2g} times the usual"
    if stray.line is not None and stray.what == AMOUNT:
        unit = found.assessed.lines[stray.line].ingredient.unit
        return f"now {show_number(stray.high - stray.usual)} {unit} off, either way"
    measure = MEASURES[stray.what]
    low, high = (show_number(end, measure.decimals) for end in (stray.low, stray.high))
    return f"now {low} to {high} {measure.unit}"
