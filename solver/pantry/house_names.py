"""What the house makes of a name that something bought has too.

A recipe for almond syrup becomes "house almond syrup" where the library has an almond syrup.
Whoever says almond syrup in that bar means the house's: its nuts must not be lost by a name.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Final

from solver.pantry.ingredient import Ingredient

OURS: Final = ("house", "our")
"""Words before the name of what the library has too, in the order in which they are tried."""
BOUGHT: Final = "bought"
"""The word before what stands on the shelf under a name that the house gave to its own."""


@dataclass(frozen=True)
class HouseMade:
    """Something that the house makes: its key, all its names, and what goes in, as written."""

    key: str
    names: tuple[str, ...]
    goes_in: tuple[str, ...]


@dataclass(frozen=True)
class HouseNames:
    """Names that mean what the house makes.

    `means` has the key of that by name, `either` the keys of the house's and of the bought one by
    names that may be either: those are the keys of what is bought and had. Both by folded names.
    """

    means: Mapping[str, str] = field(default_factory=dict)
    either: Mapping[str, tuple[str, str]] = field(default_factory=dict)

    def bought_as(self, key: str) -> str:
        """What a bought thing is called beside the house's own. Empty if nothing is called so."""
        names = (name for name, (_, bought) in self.either.items() if bought == key)
        name = next(names, None)
        return "" if name is None else f"{BOUGHT} {name.replace('-', ' ')}"


def house_names(
    made: Iterable[HouseMade],
    bought: Callable[[str], Ingredient | None],
    had: Callable[[str], bool],
) -> HouseNames:
    """The names that `made` takes from what is `bought`.

    `bought` finds that by a name, `had` says by its key if the bar has some. A key of what is had,
    or goes into the house's own, still means itself.
    """
    means: dict[str, str] = {}
    either: dict[str, tuple[str, str]] = {}
    for each in made:
        used = {_folded(name) for name in each.goes_in}
        inside = {item.key for name in each.goes_in if (item := bought(name)) is not None}
        for name in _said(each.names):
            item = bought(name)
            if item is not None and not _may_be_taken(item):
                continue
            if item is not None and name == item.key and (had(name) or name in inside):
                either.setdefault(name, (each.key, name))
            elif name not in used:
                means.setdefault(name, each.key)
    return HouseNames(means, either)


def _may_be_taken(item: Ingredient) -> bool:
    """What recipes are made of comes from the tap or the market, and stays itself."""
    return not any(map(item.is_kind, ("raw", "water", "sugar", "acid/powder")))


def _said(names: Collection[str]) -> Iterable[str]:
    """Names, with and without a word for ours, with spaces and as a key."""
    for name in map(_folded, names):
        first, _, rest = name.replace("-", " ", 1).partition(" ")
        plain = rest if first in OURS and rest else name
        for said in (name, plain, *(f"{word} {plain}" for word in OURS)):
            yield from (said, said.replace(" ", "-"))


def _folded(text: str) -> str:
    return " ".join(text.casefold().split())
