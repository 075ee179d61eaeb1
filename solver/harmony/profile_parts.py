"""The parts of a profile, with how usual everything in them is."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.harmony.counts import Counts
from solver.harmony.flavours import Flavour
from solver.harmony.shares import REST, Share, count_shares, shares
from solver.harmony.taste import BarTaste
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile


@dataclass(frozen=True)
class UsualPart:
    """A part of a profile.

    `shares` are of every flavour that may fill it, by name; `counts[k]` of `least + k` of them.
    `bottles` are the keys of what may be poured of a flavour, by its name. `stated` says whether
    the profile states anything of it. Of parts with the same `one_of` only one is filled; `none` is
    the share of drinks that fill none of them, where each may stay empty.
    """

    name: str
    shares: Mapping[str, Share]
    least: int
    counts: tuple[float, ...]
    bottles: Mapping[str, tuple[str, ...]]
    stated: bool = False
    one_of: str = ""
    none: float | None = None

    def in_stock(self, stock: Collection[str]) -> UsualPart:
        """The same part where only some keys are in stock."""
        held = {name: tuple(k for k in keys if k in stock) for name, keys in self.bottles.items()}
        kept = {name: keys for name, keys in held.items() if keys}
        return replace(self, bottles=dict(sorted(kept.items(), key=lambda each: each[1])))


def usual_parts(
    profile: Profile,
    ingredients: Iterable[Ingredient],
    flavours: Mapping[str, Flavour],
    counts: Counts,
    taste: BarTaste,
) -> tuple[UsualPart, ...]:
    """The parts of a profile; `flavours` are by the key of each of the `ingredients`."""
    everything = tuple(ingredients)
    parts = tuple(
        _usual_part(part, profile.name, everything, flavours, counts, taste)
        for part in profile.parts
    )
    return _alternatives(profile, parts)


def _usual_part(
    part: Part,
    profile: str,
    ingredients: Sequence[Ingredient],
    flavours: Mapping[str, Flavour],
    counts: Counts,
    taste: BarTaste,
) -> UsualPart:
    fitting = [each.key for each in ingredients if part.count[1] and part.accepts(each)]
    may_fill = tuple({flavours[key].name: flavours[key] for key in fitting}.values())
    bottles: dict[str, tuple[str, ...]] = {}
    for key in sorted(fitting):
        name = flavours[key].name
        bottles[name] = (*bottles.get(name, ()), key)
    own = [
        [flavours[key].name for at, key in drink.poured if at == part.name and key in flavours]
        for drink in taste.drinks
        if drink.profile == profile
    ]
    return UsualPart(
        part.name,
        shares(part, may_fill, counts, [name for names in own for name in names]),
        part.count[0],
        count_shares(part, may_fill, counts, [len(names) for names in own]),
        bottles,
        stated=bool(part.usual or part.usual_count),
    )


def _alternatives(profile: Profile, parts: tuple[UsualPart, ...]) -> tuple[UsualPart, ...]:
    """The parts, with those bound together of which only one is filled."""
    named = {part.name: part for part in parts}
    for stated in profile.parts:
        other = named.get(stated.instead_of or "")
        if other is not None:
            group = other.one_of or other.name
            named[other.name] = replace(other, one_of=group)
            named[stated.name] = replace(named[stated.name], one_of=group)
    for group in {part.one_of for part in named.values() if part.one_of}:
        bound = [part for part in named.values() if part.one_of == group]
        if all(part.least == 0 and len(part.counts) == 2 for part in bound):
            none = max(1.0 - sum(part.counts[1] for part in bound), REST)
            for part in bound:
                named[part.name] = replace(part, none=none)
    return tuple(named[part.name] for part in parts)
