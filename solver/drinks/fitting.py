"""Match the pours of a drink to the parts of a profile; list where it departs from the profile."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Part, Profile
from solver.quantities import PourSpan

SAME_HANDS = (frozenset({"shake", "shake-egg"}), frozenset({"build-top", "highball"}))
"""Techniques that are one in the glass: the same melt, and the same stage for every pour."""
_ROUNDING = 1e-9


@dataclass(frozen=True)
class NoPart:
    """No part of the profile takes the ingredient."""

    ingredient: Ingredient


@dataclass(frozen=True)
class OtherPour:
    """The part takes the ingredient, but not this amount."""

    at: int
    """Which pour of the drink it is."""
    ingredient: Ingredient
    part: Part
    each: PourSpan


@dataclass(frozen=True)
class OtherTotal:
    """The total of the part is outside its range; mL, or g."""

    part: Part
    amount: float
    total: PourSpan


@dataclass(frozen=True)
class OtherCount:
    """The part takes more or fewer ingredients than `count`."""

    part: Part
    count: int


@dataclass(frozen=True)
class OtherTechnique:
    """The technique is not that of the profile."""

    made: str
    wanted: str


Departure = NoPart | OtherPour | OtherTotal | OtherCount | OtherTechnique
"""In what a drink is built otherwise than its profile says."""


def parts_filled(pours: Sequence[Pour], profile: Profile, bar: Bar) -> tuple[Part | None, ...]:
    """The part that each pour fills, chosen for the fewest departures; None for a pour that fits
    none.

    A pour fills the part that it names, if that takes it. Of assignments with equally many
    departures, the one with earlier parts for earlier pours is returned.
    """
    parts = profile.parts
    open_: dict[tuple[int, ...], tuple[int, tuple[int, ...]]] = {(0,) * len(parts): (0, ())}
    for pour in pours:
        choices = _choices(pour, profile, bar)
        after: dict[tuple[int, ...], tuple[int, tuple[int, ...]]] = {}
        for counts, (cost, chosen) in open_.items():
            for at, more in choices:
                now = counts if at < 0 else (*counts[:at], counts[at] + 1, *counts[at + 1 :])
                reached = (cost + more, (*chosen, at))
                after[now] = min(after.get(now, reached), reached)
        open_ = after
    _, _, chosen = min(
        (cost + sum(not _counted(part, n) for part, n in zip(parts, counts, strict=True)), cost, at)
        for counts, (cost, at) in open_.items()
    )
    return tuple(parts[at] if at >= 0 else None for at in chosen)


def departures(
    pours: Sequence[Pour], fills: Sequence[Part | None], technique: str, profile: Profile,
    bar: Bar,
) -> tuple[Departure, ...]:  # fmt: skip
    """Where a drink departs from `profile`; `fills` as from `parts_filled`. Empty if nowhere.

    Water is no departure: strength and volume show its effect.
    """
    found: list[Departure] = []
    if not _same_hands(technique, profile.technique):
        found.append(OtherTechnique(technique, profile.technique))
    for at, (pour, part) in enumerate(zip(pours, fills, strict=True)):
        if part is None:
            found += [] if pour.ingredient.is_kind("water") else [NoPart(pour.ingredient)]
        elif not _pours_within(part, profile, pour, bar):
            each = profile.part_pours(part, bar.measures).each
            found.append(OtherPour(at, pour.ingredient, part, each))
    for part in profile.parts:
        mine = [pour for pour, fill in zip(pours, fills, strict=True) if fill is part]
        if not _counted(part, len(mine)):
            found.append(OtherCount(part, len(mine)))
        found += _total(part, profile, mine, bar)
    return tuple(found)


def _choices(pour: Pour, profile: Profile, bar: Bar) -> list[tuple[int, int]]:
    """Positions of parts that may take a pour, each with 1 if its amount departs there, else 0."""
    taking = [at for at, part in enumerate(profile.parts) if part.accepts(pour.ingredient)]
    named = [at for at in taking if profile.parts[at].name == pour.part]
    return [
        (at, int(not _pours_within(profile.parts[at], profile, pour, bar)))
        for at in named or taking
    ] or [(-1, 0)]


def _counted(part: Part, count: int) -> bool:
    return part.count[0] <= count <= part.count[1]


def _same_hands(one: str, other: str) -> bool:
    return one == other or any({one, other} <= alike for alike in SAME_HANDS)


def _pours_within(part: Part, profile: Profile, pour: Pour, bar: Bar) -> bool:
    each = profile.part_pours(part, bar.measures).each.traded
    if each.unit not in ("piece", pour.ingredient.per):
        return False
    size = (pour.ingredient.piece_ml or 0.0) if each.unit == "piece" else 1.0
    slack = _ROUNDING * pour.amount
    return each.low * size - slack <= pour.amount <= each.high * size + slack


def _total(part: Part, profile: Profile, pours: Iterable[Pour], bar: Bar) -> list[OtherTotal]:
    total = profile.part_pours(part, bar.measures).total
    amount = sum(pour.amount for pour in pours)
    if total is None or not amount:
        return []
    slack = _ROUNDING * amount
    within = total.traded.low - slack <= amount <= total.traded.high + slack
    return [] if within else [OtherTotal(part, amount, total)]
