"""Profiles."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.profile import Part, Profile
from solver.pantry.targets import TargetBand, TargetRange
from solver.quantities import PourSpan
from solver.show.documents.contract import document


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
