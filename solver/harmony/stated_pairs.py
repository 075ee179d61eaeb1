"""What the shares that a profile states already hold of its pairs, so that none counts twice.

A profile says how many of its drinks pour what. That vermouth and soda seldom meet in books is no
news in a drink that has both by definition; that this vermouth meets them more than that one is. So
what the pairs of an ingredient come to on average, in drinks of this profile, is taken off where a
share is stated: the pairs then move drinks against each other and leave the stated shares as they
are. Of ingredients that one word states together, a kind say, the average of them all is taken off,
and their own pairs tell them apart. Each pair of parts is averaged by itself, as if what fills the
one told nothing of what fills the other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from solver.harmony.count_arrays import Floats
from solver.harmony.profile_parts import UsualPart


def pairs_in_shares(
    parts: Sequence[UsualPart], number: Mapping[str, int], worths: Floats
) -> list[dict[str, float]]:
    """For each part, what is to be taken off each of its flavours, by name.

    `number` has the position of every flavour in `worths`, shape (flavours, flavours).
    """
    odds = np.exp(worths)
    np.fill_diagonal(odds, 1.0)
    on_average = [np.log(_expected(part, number, odds)) for part in parts]
    together = sum(on_average, np.zeros(len(number)))
    return [
        _of_words(part, number, np.exp(together - own)) if part.stated else {}
        for part, own in zip(parts, on_average, strict=True)
    ]


def _expected(part: UsualPart, number: Mapping[str, int], odds: Floats) -> Floats:
    """How much oftener than by chance each flavour meets what fills a part, shape (flavours,)."""
    filled = sum((part.least + more) * share for more, share in enumerate(part.counts))
    poured = np.zeros(len(number))
    for name, share in part.shares.items():
        poured[number[name]] = filled * share.share
    empty = max(0.0, 1.0 - float(poured.sum()))
    whole = empty + float(poured.sum())
    return np.asarray((empty + (odds * poured).sum(axis=1)) / whole)


def _of_words(part: UsualPart, number: Mapping[str, int], met: Floats) -> dict[str, float]:
    """The average of what each word of a profile states, for every flavour that it states."""
    words: dict[str, list[str]] = {}
    for name, share in part.shares.items():
        words.setdefault(share.word, []).append(name)
    found: dict[str, float] = {}
    for names in words.values():
        shares = np.array([part.shares[name].share for name in names])
        average = float(
            np.log((shares * met[[number[name] for name in names]]).sum() / shares.sum())
        )
        found.update(dict.fromkeys(names, average))
    return found
