"""How many of which candidates may be poured, by what nobody asked: a profile, and a purse."""

from __future__ import annotations

from collections.abc import Collection

from solver.pantry.profile import Profile
from solver.search.problem import Candidate, Choice

PURCHASES = "purchases"
"""Name of the choice that bounds how much is bought."""


def one_instead_of_another(profile: Profile, candidates: Collection[Candidate]) -> list[Choice]:
    """Of parts that are poured one instead of another at most one holds anything, as dry sugar and
    syrup: two would only trim a number."""
    names = [part.name for part in profile.parts]
    found: list[Choice] = []
    for part in profile.parts:
        if part.instead_of is not None:
            group = {names.index(part.name), names.index(part.instead_of)}
            members = frozenset(i for i, c in enumerate(candidates) if c.part in group)
            found.append(Choice(f"{part.name} instead of {part.instead_of}", members, high=1))
    return found


def purchases(candidates: Collection[Candidate], shop: set[str], most: int) -> list[Choice]:
    """At most so many of what would have to be bought."""
    members = frozenset(i for i, c in enumerate(candidates) if c.ingredient in shop)
    return [Choice(PURCHASES, members, high=most)] if shop else []
