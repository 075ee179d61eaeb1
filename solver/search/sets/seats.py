"""A question of sets as seats that are taken: worths of single seats and of pairs of seats.

Every part is a row of as many seats as it may hold, each taken by one ingredient or left empty. The
search for sets and the model for a solver both start from here.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from solver.search.sets.set_question import NEVER, IngredientSet, Ints, SetPart, SetQuestion

EMPTY = -1
"""The ingredient of a seat that holds nothing."""
MOST_SWEEPS = 50
"""Sweeps of reparametrisation over all pairs of seats, at most."""
TOO_LITTLE = 0.002
"""Reparametrisation ends where a sweep lowers the bound by less than this share of what all before
it did. Measured: on the built-in library eight sweeps do, on hard random questions twenty; without
any, ten to three hundred times as many sets are begun there."""


@dataclass(frozen=True, eq=False)
class Seats:
    """A question as the choice of one option for each seat.

    The options of all seats stand in one row: `ingredient`, `part` and `worth` have shape
    (options,); seat s has the options from `starts[s]` to `starts[s + 1]`. `together` is what two
    options of different seats are worth, shape (options, options), symmetric, and nothing within a
    seat. `whole` is worth the same for every set. `covers` says which options count for a wish,
    shape (wishes, options).
    """

    question: SetQuestion
    starts: Ints
    ingredient: Ints
    part: Ints
    worth: Ints
    together: Ints
    whole: int
    covers: Ints

    @property
    def can_be_taken(self) -> bool:
        """Whether there are seats, and something for each."""
        return self.count > 0 and bool((np.diff(self.starts) > 0).all())

    @classmethod
    def of(cls, question: SetQuestion) -> Seats:
        """The seats of a question: those on which a wish depends first, then the fullest."""
        wished = {index for wish in question.wishes if wish.low for index, _ in wish.members}
        parts = question.parts
        order = sorted(
            range(len(parts)), key=lambda k: (k not in wished, -len(parts[k].members), k)
        )
        rows = [(index, *row) for index in order for row in _rows(parts[index])]
        sizes = [len(ingredients) for _, ingredients, _ in rows]
        ingredient: Ints = np.array([i for _, row, _ in rows for i in row], dtype=np.int64)
        part: Ints = np.repeat([index for index, _, _ in rows], sizes).astype(np.int64)
        where = list(zip(part.tolist(), ingredient.tolist(), strict=True))
        covers = [[at in wish.members for at in where] for wish in question.wishes]
        seats = cls(
            question,
            starts=np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64),
            ingredient=ingredient,
            part=part,
            worth=np.array([w for _, _, row in rows for w in row], dtype=np.int64),
            together=np.zeros((len(where),) * 2, dtype=np.int64),
            whole=sum(each.counts[0] for each in parts),
            covers=np.array(covers, dtype=np.int64).reshape(len(covers), len(where)),
        )
        return replace(seats, together=seats._pairs())

    @property
    def count(self) -> int:
        """How many seats there are."""
        return len(self.starts) - 1

    @property
    def seat(self) -> Ints:
        """The seat of each option, shape (options,)."""
        return np.repeat(np.arange(self.count), np.diff(self.starts))

    @property
    def spans(self) -> list[slice]:
        """The options of each seat."""
        bounds = zip(self.starts[:-1].tolist(), self.starts[1:].tolist(), strict=True)
        return [slice(*each) for each in bounds]

    def ingredient_set(self, options: tuple[int, ...]) -> IngredientSet:
        """The set that some options make, one for each seat."""
        held: list[list[int]] = [[] for _ in self.question.parts]
        for option in options:
            if self.ingredient[option] != EMPTY:
                held[int(self.part[option])].append(int(self.ingredient[option]))
        return tuple(tuple(sorted(each)) for each in held)

    def _pairs(self) -> Ints:
        """What two options are worth together; NEVER what no set has."""
        poured, seat, same = self.ingredient != EMPTY, self.seat, np.equal.outer
        both = np.logical_and.outer(poured, poured)
        names = self.ingredient.clip(min=0)
        table = np.where(both, self.question.together[np.ix_(names, names)], 0)
        table[both & same(names, names)] = NEVER
        # In the seats of a part ingredients ascend and what is empty comes last: one way to sit.
        ahead = same(self.part, self.part) & np.less.outer(seat, seat)
        misplaced = ahead & poured & (~poured[:, np.newaxis] | np.greater.outer(names, names))
        table[misplaced | misplaced.T] = NEVER
        self._bind(table)
        table[same(seat, seat)] = 0
        return np.asarray(table.clip(min=NEVER))

    def _bind(self, table: Ints) -> None:
        """Write wishes that two options alone can break into what they are worth together."""
        for wish, cover in zip(self.question.wishes, self.covers.astype(bool), strict=True):
            if wish.high == 1:
                table[np.logical_and.outer(cover, cover)] = NEVER
            concerned = list({*self.seat[cover].tolist()})  # np.unique would import numpy.ma
            if wish.low == 1 and len(concerned) == 2:
                other = ~cover & np.isin(self.seat, concerned)
                table[np.logical_and.outer(other, other)] = NEVER

    def reparametrised(self) -> Seats:
        """The same worths of sets, reparametrised: moved from pairs to single seats.

        Max-product linear programming, by pairs (Globerson and Jaakkola, NIPS 2007): what the best
        options of all seats are worth by themselves never rises, and bounds every set from above.
        """
        worth, together, spans = self.worth.copy(), self.together.copy(), self.spans
        bounds = [_bound(worth, together, spans)]
        for _ in range(MOST_SWEEPS):
            for one, other in combinations(spans, 2):
                whole = worth[one, np.newaxis] + together[one, other] + worth[other]
                worth[one], worth[other] = whole.max(axis=1) >> 1, whole.max(axis=0) >> 1
                together[one, other] = whole - worth[one, np.newaxis] - worth[other]
                together[other, one] = together[one, other].T
            bounds.append(_bound(worth, together, spans))
            if bounds[-2] - bounds[-1] <= TOO_LITTLE * (bounds[0] - bounds[-1]):
                break
        return replace(self, worth=worth, together=together)


def _rows(part: SetPart) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """The ingredients and worths of each seat of a part: first those that are always taken."""
    for number in range(part.most):
        more = number + 1 - part.least
        if more <= 0:
            yield part.members, part.worths
        else:
            extra = part.counts[more] - part.counts[more - 1]
            yield (EMPTY, *part.members), (0, *(worth + extra for worth in part.worths))


def _bound(worth: Ints, together: Ints, spans: Sequence[slice]) -> int:
    """The most that a set can be worth, seat by seat and pair by pair."""
    pairs = sum(int(together[two].max()) for two in combinations(spans, 2))
    return pairs + sum(int(worth[span].max()) for span in spans)
