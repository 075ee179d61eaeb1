"""Profiles, as text and as a table."""

from __future__ import annotations

from collections.abc import Sequence

from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.profile import Profile
from solver.show.text.limits import span_words
from solver.show.text.pours import said_pours
from solver.show.text.table import Cell, csv_table


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
