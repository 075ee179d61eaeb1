"""Profiles, for people and for programs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.profile import Part, Profile
from solver.pantry.targets import TargetBand, TargetRange
from solver.quantities import PourSpan
from solver.show.contract import document
from solver.show.limits import span_words
from solver.show.pours import said_pours
from solver.show.table import Cell, csv_table


def profiles_text(found: Sequence[Profile]) -> str:
    """One line for each profile."""
    return "\n".join(f"{profile.name:<20} {profile.says}" for profile in found)


def profile_text(profile: Profile, bar: Bar) -> str:
    """A profile as its file has it, its pours in the bar's unit: parts, aims, limits, source.

    Raises:
        BadInput, BadInputs: a pour can't be read.
    """
    lines = [f"{profile.name}: {profile.says}"]
    if profile.aliases:
        lines.append(f"  also called {', '.join(profile.aliases)}")
    lines.append(f"  {profile.technique}, glass: {profile.glass or 'any'}")
    for part in profile.parts:
        least, most = part.count
        count = str(least) if least == most else f"{least} to {most}"
        what = ", ".join((*part.kinds, *part.ingredients))
        each = said_pours(profile.part_pours(part, bar.measures).each, bar) if part.each else ""
        lines.append(f"  {part.name:<11}{count:<9}{each:<18}{what}")
    targets = profile.targets(bar.measures, bar.currency)
    for title, several in (("aim", targets.aims), ("limit", targets.limits)):
        for target in several:
            measure = MEASURES[target.measure]
            numbers = span_words(measure, target.low, target.high)
            unit = measure.unit_in(bar.currency)
            lines.append(f"  {title:<11}{measure.label:<11}{numbers} {unit}".rstrip())
    lines.append(f"  {profile.source.basis}: {profile.source.text}")
    return "\n".join(lines)


def profiles_csv(found: Sequence[Profile], bar: Bar) -> str:
    """Profiles as a table: what they aim for and must keep, both ends of each measure.

    Raises:
        BadInput, BadInputs: a profile can't be read.
    """
    rows: list[tuple[Cell, ...]] = []
    for profile in found:
        targets = profile.targets(bar.measures, bar.currency)
        aims = {t.measure: (t.low, t.high) for t in targets.aims}
        limits = {t.measure: (t.low, t.high) for t in targets.limits}
        bands: list[Cell] = []
        for name in _BANDS:
            bands += [*aims.get(name, (None, None)), *limits.get(name, (None, None))]
        rows.append((profile.name, profile.says, profile.technique, profile.glass, *bands,
                     f"{profile.source.basis}: {profile.source.text}"))  # fmt: skip
    heads = [
        f"{MEASURES[name].key}_{end}"
        for name in _BANDS
        for end in ("aim_low", "aim_high", "limit_low", "limit_high")
    ]
    return csv_table(("profile", "says", "technique", "glass", *heads, "source"), rows)


_BANDS = ("abv", "sugar", "acid", "volume")


def profiles_json(found: Sequence[Profile], bar: Bar) -> str:
    """The document of some profiles, as numbers in the measures of the bar.

    Raises:
        BadInput, BadInputs: a profile can't be read.
    """
    return document("profiles", {"profiles": [_profile(profile, bar) for profile in found]})


def _profile(profile: Profile, bar: Bar) -> dict[str, Any]:
    targets = profile.targets(bar.measures, bar.currency)
    return {
        "name": profile.name,
        "aliases": list(profile.aliases),
        "says": profile.says,
        "inherits": profile.inherits,
        "technique": profile.technique,
        "glass": profile.glass,
        "garnish": profile.garnish,
        "parts": [_part(part, profile, bar) for part in profile.parts],
        "aims": [_band(aim) for aim in targets.aims],
        "limits": [_band(limit) for limit in targets.limits],
        "source": {"basis": profile.source.basis, "text": profile.source.text},
    }


def _band(target: TargetBand | TargetRange) -> dict[str, Any]:
    unit = MEASURES[target.measure].unit
    return {"measure": target.measure, "unit": unit, "low": target.low, "high": target.high}


def _part(part: Part, profile: Profile, bar: Bar) -> dict[str, Any]:
    pours = profile.part_pours(part, bar.measures)
    return {
        "part": part.name,
        "kinds": list(part.kinds),
        "ingredients": list(part.ingredients),
        "not_kinds": list(part.not_kinds),
        "not_ingredients": list(part.not_ingredients),
        "count": {"low": part.count[0], "high": part.count[1]},
        "each": _span(pours.each) if part.each else None,
        "total": _span(pours.total) if pours.total else None,
        "tool": part.tool,
        "stage": part.stage,
    }


def _span(span: PourSpan) -> dict[str, Any]:
    return {"low": span.low, "high": span.high, "unit": span.unit.value}
