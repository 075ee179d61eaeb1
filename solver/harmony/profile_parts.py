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
class PartPlace:
    """A part of a profile.

    `shares` are of every flavour that may fill it, by name; `counts[k]` of `least + k` of them.
    `bottles` are the keys of what is in stock of a flavour, by its name. `stated` says whether the
    profile states anything of it. Of places with the same `one_of` only one is filled; `none` is
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


def places_of(
    profile: Profile,
    ingredients: Iterable[Ingredient],
    stock: Collection[str],
    flavours: Mapping[str, Flavour],
    counts: Counts,
    taste: BarTaste,
) -> tuple[PartPlace, ...]:
    """The places of a profile; `flavours` are by the key of each of the `ingredients`."""
    everything = tuple(ingredients)
    places = tuple(
        _place(part, profile.name, everything, stock, flavours, counts, taste)
        for part in profile.parts
    )
    return _alternatives(profile, places)


def _place(
    part: Part,
    profile: str,
    ingredients: Sequence[Ingredient],
    stock: Collection[str],
    flavours: Mapping[str, Flavour],
    counts: Counts,
    taste: BarTaste,
) -> PartPlace:
    fitting = [each.key for each in ingredients if part.count[1] and part.accepts(each)]
    may_fill = tuple({flavours[key].name: flavours[key] for key in fitting}.values())
    bottles: dict[str, tuple[str, ...]] = {}
    for key in sorted(fitting):
        if key in stock:
            name = flavours[key].name
            bottles[name] = (*bottles.get(name, ()), key)
    own = [
        [flavours[key].name for at, key in drink.poured if at == part.name and key in flavours]
        for drink in taste.drinks
        if drink.profile == profile
    ]
    return PartPlace(
        part.name,
        shares(part, may_fill, counts, [name for names in own for name in names]),
        part.count[0],
        count_shares(part, may_fill, counts, [len(names) for names in own]),
        bottles,
        stated=bool(part.usual or part.usual_count),
    )


def _alternatives(profile: Profile, places: tuple[PartPlace, ...]) -> tuple[PartPlace, ...]:
    """The places, with those bound together of which only one is filled."""
    named = {place.name: place for place in places}
    for part in profile.parts:
        other = named.get(part.instead_of or "")
        if other is not None:
            group = other.one_of or other.name
            named[other.name] = replace(other, one_of=group)
            named[part.name] = replace(named[part.name], one_of=group)
    for group in {place.one_of for place in named.values() if place.one_of}:
        bound = [place for place in named.values() if place.one_of == group]
        if all(place.least == 0 and len(place.counts) == 2 for place in bound):
            none = max(1.0 - sum(place.counts[1] for place in bound), REST)
            for place in bound:
                named[place.name] = replace(place, none=none)
    return tuple(named[place.name] for place in places)
