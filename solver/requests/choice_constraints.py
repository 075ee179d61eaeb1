"""Constraints on how many candidates are poured: exclusive parts, and purchases."""

from __future__ import annotations

from collections.abc import Collection

from solver.pantry.profile import Profile
from solver.search.problem import Candidate, Choice

PURCHASES = "purchases"
"""Name of the choice that bounds how much is bought."""


def one_instead_of_another(profile: Profile, candidates: Collection[Candidate]) -> list[Choice]:
    """Choices: of two exclusive parts at most one is filled, such as dry sugar and syrup."""
    names = [part.name for part in profile.parts]
    found: list[Choice] = []
    for part in profile.parts:
        if part.instead_of is not None:
            group = {names.index(part.name), names.index(part.instead_of)}
            members = frozenset(i for i, c in enumerate(candidates) if c.part in group)
            found.append(Choice(f"{part.name} instead of {part.instead_of}", members, high=1))
    return found


def purchases(candidates: Collection[Candidate], shop: set[str], most: int) -> list[Choice]:
    """A choice of at most `most` ingredients that would have to be bought; empty if none would."""
    members = frozenset(i for i, c in enumerate(candidates) if c.ingredient in shop)
    return [Choice(PURCHASES, members, high=most)] if shop else []
