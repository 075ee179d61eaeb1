"""Leaves that go into a drink by its garnish: mint in a julep, basil in a smash.

They count nothing in the glass, so they are no pours of a search; but a drink that is made with
leaves is not that drink without them. A wish for leaves is met by a garnish that has them.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from solver.pantry.avoidance import all_against
from solver.pantry.bar import Bar
from solver.pantry.garnish import goes_in
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.requests.request import Request

HERB = "raw/herb"
"""The kind of leaves, which are pressed or shaken whole."""


@dataclass(frozen=True)
class Leaves:
    """Leaves in a drink: as the garnish says them, "8 mint leaves", and what they weigh.

    `g` is None where nobody has weighed them; `on_shelf` says whether the bar has any.
    """

    ingredient: Ingredient
    says: str
    g: float | None
    on_shelf: bool


def leaves_in(garnish: str | None, bar: Bar) -> tuple[Leaves, ...]:
    """The leaves that a garnish puts into the drink; empty if there are none."""
    said = goes_in(garnish or "")
    if said is None:
        return ()
    held = (bar.library.get(key) for key in sorted(bar.mentions.garnish(said).holds))
    herbs = [item for item in held if item is not None and item.is_kind(HERB)]
    weighed = bar.garnishes.taken(said).amounts if herbs else {}
    there = {row.ingredient.key for row in bar.stock}
    return tuple(Leaves(item, said, weighed.get(item.key), item.key in there) for item in herbs)


def wished_leaves(profile: Profile, bar: Bar, request: Request) -> frozenset[str]:
    """The keys of leaves that are asked for, on the shelf, and in a garnish of the profile that
    nobody avoids; empty if no garnish has them all."""
    wished = _asked_for(bar, request)
    return wished if wished and _with(wished, profile, bar, request) else frozenset()


def garnish_with(key: str, profile: Profile, bar: Bar) -> str | None:
    """The first garnish of a profile that puts some leaves into the drink; None if none does."""
    return next(
        (g for g in _leafy(profile, bar) if key in {x.ingredient.key for x in leaves_in(g, bar)}),
        None,
    )


def garnish_of(
    profile: Profile, poured: Collection[Ingredient], bar: Bar, request: Request
) -> str | None:
    """What goes on a drink of some ingredients; None if it has nothing, or somebody avoids it.

    Of leaves it is those that are asked for; else those that go with what is poured, or if the bar
    has none of them others that such a drink is made with. Where the usual garnish is avoided, it
    is the one that the profile has whatever is poured.
    """
    wished = wished_leaves(profile, bar, request)
    if wished:
        return next(iter(_with(wished, profile, bar, request)))
    either = (profile.garnish_on(poured), profile.garnish)
    usual = next((each for each in either if each and not _avoided(each, bar, request)), None)
    if usual is None:
        return None
    if _are_there(usual, bar):
        return usual
    others = (each for each in _leafy(profile, bar) if not _avoided(each, bar, request))
    return next((other for other in others if _are_there(other, bar)), usual)


def lacks_leaves(profile: Profile, bar: Bar) -> bool:
    """Whether such a drink is made with leaves, and the bar has none: a julep is none without."""
    if profile.garnish is None or not leaves_in(profile.garnish, bar):
        return False
    return not any(_are_there(garnish, bar) for garnish in _leafy(profile, bar))


def _are_there(garnish: str, bar: Bar) -> bool:
    """Whether the bar has all leaves that a garnish puts into the drink."""
    return all(each.on_shelf for each in leaves_in(garnish, bar))


def _asked_for(bar: Bar, request: Request) -> frozenset[str]:
    """Leaves that a request wants, and not how much of them."""
    there = {row.ingredient.key: row.ingredient for row in bar.stock}
    plain = (wish.key for wish in request.wanted if wish.span is None and wish.key in there)
    return frozenset(key for key in plain if there[key].is_kind(HERB))


def _with(wished: frozenset[str], profile: Profile, bar: Bar, request: Request) -> list[str]:
    """The garnishes of a profile that have all leaves that are asked for, and are not avoided."""
    return [
        each
        for each in _leafy(profile, bar)
        if wished <= {found.ingredient.key for found in leaves_in(each, bar)}
        and not _avoided(each, bar, request)
    ]


def _leafy(profile: Profile, bar: Bar) -> list[str]:
    """The garnishes of a profile that put leaves into the drink, its usual one first."""
    every = (profile.garnish, *profile.garnishes.values())
    return [each for each in dict.fromkeys(every) if each and leaves_in(each, bar)]


def _avoided(garnish: str, bar: Bar, request: Request) -> bool:
    return bool(all_against(bar.mentions.garnish(garnish), request.avoided))
