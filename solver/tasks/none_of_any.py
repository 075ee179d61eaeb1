"""Why no profile has what is asked: what rules out all of them, and the one purchase that helps."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from solver.clock import Clock, TimeUpError
from solver.drinks.answer import Answer
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import STRUCTURE, Demand, Kind
from solver.requests.origin import From
from solver.search.milp.backend import Backend
from solver.tasks.subproblems import Subproblems
from solver.tasks.ways_out import WayOut, bought

FromUsual = Callable[[Answer, AskedDrink, Clock], float]
BestOf = Callable[[Bar], tuple[str, Answer] | None]


@dataclass(frozen=True)
class Bought:
    """The purchase of one ingredient, and the drink of a profile that comes of it."""

    profile: str
    way: WayOut


@dataclass(frozen=True)
class InTheWay:
    """What rules every profile out: wishes that cannot hold, or not together.

    `bought` is the purchase whose drink is nearest to its aims and most in keeping, None where no
    single one helps. `cut` says that there was no time to look at every profile.
    """

    conflicts: tuple[tuple[Demand, ...], ...]
    bought: Bought | None
    cut: bool


def in_the_way(
    each: Sequence[AskedDrink], bar: Bar, backend: Backend, clock: Clock,
    from_usual: FromUsual, best_of: BestOf,
) -> InTheWay:  # fmt: skip
    """What stands in the way of all of `each`, which are proven to have nothing.

    `from_usual` tells how much less a drink is worth than the best of its profile, `best_of` which
    profile has the best drink of another bar, and that drink.
    """
    several = [Subproblems(asked, backend, clock) for asked in each]
    conflicts: list[tuple[Demand, ...]] = []
    try:
        conflicts += _of_all(several, bar)
        missing = _missing(several, bar)
        if missing:  # what is asked for has to be bought, whatever else is
            return InTheWay(tuple(conflicts), _of_one(missing, bar, best_of), cut=clock.left == 0)
        found = _Found()
        for problems in several:
            found.take(bought(problems, 1), problems.asked, from_usual, clock)
    except TimeUpError:
        return InTheWay(tuple(conflicts), None, cut=True)
    return InTheWay(tuple(conflicts), found.best, cut=False)


def _missing(several: Sequence[Subproblems], bar: Bar) -> list[Ingredient]:
    """What is asked for and not there, or past its last day."""
    there = {row.ingredient.key for row in bar.stock}
    wanted = (d for d in several[0].asked.demands if d.kind is Kind.WITH) if several else ()
    keys = dict.fromkeys(d.subject for d in wanted if d.subject not in there)
    return [item for item in map(bar.library.get, keys) if item is not None]


def _of_one(missing: Sequence[Ingredient], bar: Bar, best_of: BestOf) -> Bought | None:
    """The best drink where the one thing that is not there is bought."""
    if len(missing) > 1:
        return None
    best = best_of(bar.with_bottle(missing[0]))
    return None if best is None else Bought(best[0], WayOut((), best[1], tuple(missing)))


@dataclass
class _Found:
    """The purchase whose drink is nearest to its aims, and of equal ones the most in keeping."""

    best: Bought | None = None
    rank: tuple[float, float, str] = (math.inf, math.inf, "")

    def take(
        self, way: WayOut | None, asked: AskedDrink, from_usual: FromUsual, clock: Clock
    ) -> None:
        """One more purchase, if there is one for that profile."""
        if way is None:
            return
        name = asked.profile.name
        rank = (round(way.answer.off_aim, 6), from_usual(way.answer, asked, clock), name)
        if self.best is None or rank < self.rank:
            self.best, self.rank = Bought(name, way), rank


def _of_all(several: Sequence[Subproblems], bar: Bar) -> Iterator[tuple[Demand, ...]]:
    """Wishes that no profile can keep by themselves; and what is asked for and avoided at once."""
    if not several:
        return
    wishes = [demand for demand in several[0].asked.demands if demand.kind not in STRUCTURE]
    asked = [demand for demand in wishes if _is_asked(demand)]
    alone = [d for d in asked if all(_ruled_out(problems, d) for problems in several)]
    yield from ((demand,) for demand in alone)
    for wanted in asked:
        item = bar.library.get(wanted.subject) if wanted.kind is Kind.WITH else None
        for demand in asked:
            avoided = demand.avoids
            if item is not None and avoided and avoided.against(bar.told_of(item)):
                yield (wanted, demand)


def _is_asked(demand: Demand) -> bool:
    return demand.origin.kind is From.REQUEST


def _ruled_out(problems: Subproblems, wish: Demand) -> bool:
    """Whether a profile has nothing with one wish alone."""
    own = problems.asked.demands
    others = [each for each in own if each != wish and each.kind not in STRUCTURE]
    return problems.any(others) is None
