"""An existing drink, as people read it."""

from __future__ import annotations

from solver.drinks.approval import Moved
from solver.drinks.assess import AimMet, Assessment, LimitMet
from solver.drinks.fitting import (
    Departure,
    NoPart,
    OtherCount,
    OtherPour,
    OtherTechnique,
    OtherTotal,
)
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.missing_prices import unpriced_names
from solver.pantry.spec import Approved
from solver.pantry.vocabulary import TECHNIQUE_NAMES
from solver.quantities import show_number
from solver.show.text.design import after_a_gap
from solver.show.text.floated import float_lines
from solver.show.text.glass import glass_lines
from solver.show.text.guest import day_line, guest_lines
from solver.show.text.limits import limit_range, span_words
from solver.show.text.pours import pour_line, said_amount, said_pours, said_volume
from solver.show.text.target import ends, target_line, target_words
from solver.show.text.tasted import tasted_lines
from solver.show.text.uncertain import uncertain_lines, uncooked_lines


def assessment_text(found: Assessment, bar: Bar) -> str:
    """Its pours, what it is before ice and in the glass, and how it keeps to its profile."""
    lines = [_heading(found), ""]
    lines += [pour_line(line, found.technique, bar) for line in found.lines]
    lines += ["", *_values(found, bar), *float_lines(found.floated), ""]
    if found.spec.approved is not None:
        lines += [_since(found.spec.approved, found)]
    lines += tasted_lines(found.spec)
    lines += uncertain_lines(found.uncertain)
    volume_ml = float(found.drink.finished.volume_ml)
    lines += uncooked_lines(found.lines, volume_ml, bar)
    lines += glass_lines(found.glass, volume_ml, bar)
    lines += guest_lines(found.guest)
    if found.profile is not None:
        lines += ["", *_aims(found, found.profile.name)]
    if found.limits:
        lines += ["", "Limits:", *(_limit(met, bar) for met in found.limits)]
    if found.departures:
        lines += ["", "Built otherwise than the profile says:"]
        lines += [f"  {departure_words(each, found, bar)}" for each in found.departures]
    return "\n".join([*lines, *after_a_gap(day_line(bar))])


def _heading(found: Assessment) -> str:
    made = TECHNIQUE_NAMES[found.technique]
    parts = [f"{made} (assumed: nothing says how it is made)" if found.assumed else made]
    if found.glass:
        parts.append(f"glass: {found.glass}")
    if found.profile:
        parts.append(f"profile: {found.profile.name}")
    return f"{found.spec.name}: {', '.join(parts)}"


def _values(found: Assessment, bar: Bar) -> list[str]:
    before = {
        "abv": float(found.drink.before.abv_pct),
        "sugar": float(found.drink.before.sugar_g_100ml),
        "acid": float(found.drink.before.acid_g_100ml),
        "volume": float(found.drink.before.volume_ml),
    }
    lines = [f"  {'':<9}{'before ice':>11}{'in the glass':>14}"]
    for name in (*before, "ethanol", "cost"):
        measure, value = MEASURES[name], found.values[name]
        left = f"{before[name]:.{measure.decimals}f}" if name in before else ""
        right = "not known" if value is None else f"{value:.{measure.decimals}f}"
        unit = "" if value is None else measure.unit_in(bar.currency)
        lines.append(f"  {measure.label:<9}{left:>11}{right:>14} {unit}".rstrip())
    if found.values["cost"] is None:
        unpriced = [line.ingredient.key for line in found.lines if line.cost is None]
        lines[-1] += f": no price for {'; '.join(unpriced_names(bar, *unpriced))}"
    return lines


def _since(approved: Approved, found: Assessment) -> str:
    moves = ", ".join(map(move_words, found.moved)) or "nothing that anybody would notice has moved"
    return f"Since it was approved on {approved.date}: {moves}."


def move_words(moved: Moved) -> str:
    """A measure that moved since it was approved, in a few words."""
    measure = moved.measure
    now, then = _amount(moved.now, measure), _amount(moved.approved, measure)
    return f"{measure.label} {now} instead of {then} {measure.unit}".rstrip()


def _aims(found: Assessment, profile: str) -> list[str]:
    if not found.aims:
        return [f"{profile} aims for nothing."]
    kept = all(met.kept is not False for met in found.limits)
    said = target_line(found.values, (met.aim for met in found.aims), kept=kept)
    return [said, f"Aims of {profile}:", *map(_aim, found.aims)]


def _aim(met: AimMet) -> str:
    measure, span = met.aim.measure, span_words(met.aim.measure, *ends(met.aim))
    return f"  {measure.label:<9}{span:>12} {measure.unit:<9} {distance_words(met)}".rstrip()


def distance_words(met: AimMet) -> str:
    """How far a measure is from its aim."""
    if met.value is None:
        return "not known"
    return target_words({met.aim.measure.name: met.value}, (met.aim,))


def _limit(met: LimitMet, bar: Bar) -> str:
    word = {True: "kept", False: "BROKEN", None: "unknown"}[met.kept]
    limit = met.limit
    span = limit_range(limit, bar.currency)
    line = f"  {word:<8} {limit.measure.label:<9}{span:<21} {limit.name}"
    return f"{line}, {beyond_words(met)}" if met.kept is False else line


def beyond_words(met: LimitMet) -> str:
    """By how much a value is over or under its limit."""
    value, limit = met.value or 0.0, met.limit
    if limit.high is not None and value > limit.high:
        return f"{_amount(value - limit.high, limit.measure, finer=1)} over"
    return f"{_amount((limit.low or 0.0) - value, limit.measure, finer=1)} under"


def _amount(value: float, measure: Measure, finer: int = 0) -> str:
    return f"{value:.{measure.decimals + finer}f}"


def departure_words(departure: Departure, found: Assessment, bar: Bar) -> str:
    """In what a spec is unlike its profile."""
    match departure:
        case NoPart(ingredient):
            return f"no part takes {ingredient.name}"
        case OtherPour(at, ingredient, part, each):
            said = said_amount(found.lines[at], bar)
            return f"{said} of {ingredient.name}: {part.name} has {said_pours(each, bar)}"
        case OtherTotal(part, amount, total):
            unit = "g" if total.unit == "g" else "mL"
            said = f"{show_number(amount)} {unit}" if unit == "g" else said_volume(amount, bar)
            return f"{part.name}: {said} in all, {said_pours(total, bar)} wanted"
        case OtherCount(part, count):
            low, high = part.count
            wanted = f"{low}" if low == high else f"{low} to {high}"
            return f"{part.name}: {wanted} wanted, {count or 'none'} there"
        case OtherTechnique(made, wanted):
            return (
                f"it is {TECHNIQUE_NAMES[made]}, and the profile has it {TECHNIQUE_NAMES[wanted]}"
            )
