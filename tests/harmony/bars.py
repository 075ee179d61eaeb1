"""Harmony on whole bars, and ingredients that a house might make."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from solver.clock import Clock
from solver.harmony.counted import load_counts
from solver.harmony.dial import Dial
from solver.harmony.harmony import BottleWish, Harmony, Known
from solver.harmony.taste import BarTaste
from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.load_bar import load_bar
from solver.pantry.profile import Profile
from solver.pantry.profile_files import load_profiles
from solver.search.sets.best_first import best_first

DEMO = Path(__file__).parents[2] / "demo"
PATIENT = Clock.of(3600.0)
NOTHING = Figure(value=0, basis="definition", source="made up for a test")


@cache
def bar(name: str = "") -> Bar:
    """The whole library, or the demonstration's bar."""
    return load_bar(DEMO if name == "demo" else None)


@cache
def profiles() -> dict[str, Profile]:
    """Every built-in profile by name."""
    return {profile.name: profile for profile in load_profiles()}


def harmony(
    profile: str | Profile,
    where: str = "",
    *,
    own: Sequence[Ingredient] = (),
    taste: BarTaste | None = None,
    dial: Dial = Dial.FAMILIAR,
) -> Harmony:
    """Harmony of a profile on a bar that also has some ingredients of its `own`."""
    stock = [*(row.ingredient for row in bar(where).stock), *own]
    if isinstance(profile, str) and not own and taste is None:
        return Harmony(_plain(profile, where), stock, dial=dial)
    found = profiles()[profile] if isinstance(profile, str) else profile
    library = [*bar(where).library, *own]
    return Harmony(Known(found, library, load_counts(), taste), stock, dial=dial)


@cache
def _plain(profile: str, where: str) -> Known:
    """Of nothing but a bar: many tests ask it of the same."""
    return Known(profiles()[profile], bar(where).library, load_counts())


def best(of: Harmony, count: int = 1, wanted: Sequence[str] = ()) -> list[tuple[str, ...]]:
    """The ingredients of the sets that are most in keeping, of those that pour what is wanted."""
    wishes = [BottleWish(frozenset({key}), low=1) for key in wanted]
    found = itertools.islice(best_first(of.question(wishes), PATIENT), count)
    return [tuple(of.flavours[i].name for i in each.poured) for each in found]


def made(key: str, kind: str, *character: str) -> Ingredient:
    """Something that a house makes."""
    return Ingredient(
        key=key,
        name=key.replace("-", " "),
        kind=kind,
        character=character,
        abv=NOTHING,
        sugar=NOTHING,
        acid=NOTHING,
        tool="jigger",
    )
