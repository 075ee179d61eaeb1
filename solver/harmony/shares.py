"""How usual each ingredient is in a part, and how usual it is that so many fill it.

What a profile states comes first: shares of such drinks, by ingredient, kind or family, the closest
word first. A kind's share is split among what is of it by their counts; what nothing is stated of
shares the rest, by counts. Where nothing is stated at all, all is by counts, which do not know
profiles. Specs that the bar keeps to the profile move a share by their number.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from solver.harmony.counts import Counts
from solver.harmony.flavours import Flavour
from solver.harmony.taste import OWN_DRINK
from solver.pantry.profile import Part
from solver.pantry.vocabulary import kind_within

HALF = 0.5
"""Added to every count of drinks, so that what was never printed is rare and not impossible."""
REST = 0.01
"""Least share of what nothing is stated of: one in a hundred."""
STATED = 50.0
"""A profile's shares weigh against the bar's own specs like so many printed drinks: our choice."""


@dataclass(frozen=True)
class Share:
    """How usual an ingredient is in a part.

    `share` is its own. `stated` is what the profile says, of `word`, None where it says nothing; of
    that it has what `poured` drinks of `of` make. `own` of `own_of` specs of the bar that keep to
    the profile pour it there.
    """

    share: float
    poured: int
    of: int
    word: str = ""
    stated: float | None = None
    own: int = 0
    own_of: int = 0


def shares(
    part: Part, flavours: Sequence[Flavour], counts: Counts, own: Sequence[str] = ()
) -> dict[str, Share]:
    """The share of each of the flavours that may fill a part, by name.

    `own` are the flavours that the bar's specs of this profile have there, one for each pour.
    """
    groups: dict[str, list[Flavour]] = {}
    for flavour in flavours:
        groups.setdefault(_word(part.usual, flavour), []).append(flavour)
    stated = {word: part.usual[word] for word in groups if word}
    left = _left(part, groups, counts)
    whole = sum(stated.values()) + left
    mine = Counter(own)
    found: dict[str, Share] = {}
    for word, members in groups.items():
        poured = {each.name: counts.poured.get(each.counted_as or "", 0) for each in members}
        counted = [each for each in members if each.counted_as is not None] or members
        of = sum(poured.values()) + HALF * len(counted)
        for name, count in poured.items():
            weight = (stated[word] if word else left) / whole
            book = weight * (count + HALF) / of
            share = (STATED * book + OWN_DRINK * mine[name]) / (STATED + OWN_DRINK * len(own))
            found[name] = Share(
                share,
                count,
                sum(poured.values()),
                word,
                stated.get(word),
                mine[name],
                len(own),
            )
    return found


def _left(part: Part, groups: Mapping[str, Sequence[Flavour]], counts: Counts) -> float:
    """The share of everything that the profile does not name: what it leaves, at most what the
    counts give it.
    """
    if not part.usual:
        return 1.0
    poured = {word: HALF + _poured(members, counts) for word, members in groups.items()}
    counted = poured.get("", 0.0) / sum(poured.values()) if poured else 0.0
    return min(max(1.0 - sum(part.usual.values()), REST), counted)


def _poured(flavours: Iterable[Flavour], counts: Counts) -> int:
    return sum(counts.poured.get(each.counted_as or "", 0) for each in flavours)


def _word(usual: Mapping[str, float], flavour: Flavour) -> str:
    """The word of what is usual that fits a flavour most closely; "" where none does."""
    names = {flavour.name, flavour.counted_as, *flavour.bottles}
    named = [word for word in usual if word in names]
    kinds = [word for word in usual if any(kind_within(kind, word) for kind in flavour.kinds)]
    closest = sorted(kinds, key=len, reverse=True)
    return next(iter([*named, *closest]), "")


def count_shares(
    part: Part, flavours: Sequence[Flavour], counts: Counts, own: Sequence[int] = ()
) -> tuple[float, ...]:
    """How usual it is that the least, one more, ... as many as there may be fill a part.

    `own` is how many fill it in each of the bar's specs of this profile. Where the profile states
    nothing, each one more is as likely as that a published drink pours any of the flavours.
    """
    least, most = part.count
    most = max(least, min(most, len(flavours)))
    among = range(least, most + 1)
    if part.usual_count:
        weights = [part.usual_count.get(str(count), REST) for count in among]
    else:
        any_of = 1.0 - math.prod(
            1.0 - counts.poured.get(each.counted_as or "", 0) / counts.drinks for each in flavours
        )
        chance = min(max(any_of, REST), 1.0 - REST)
        weights = [chance ** (count - least) * (1.0 - chance) for count in among]
    whole = sum(weights)
    mine = Counter(own)
    return tuple(
        (STATED * weight / whole + OWN_DRINK * mine[count]) / (STATED + OWN_DRINK * len(own))
        for count, weight in zip(among, weights, strict=True)
    )
