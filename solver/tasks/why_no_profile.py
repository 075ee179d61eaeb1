"""Why no profile has a drink for a request, and the single purchase that would help."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from solver.clock import Clock, TimeUpError
from solver.drinks.answer import Answer
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.requests.asked_drink import AskedDrink
from solver.requests.demands import STRUCTURE, Demand, DemandKind
from solver.requests.origin import From
from solver.search.milp.backend import Backend
from solver.tasks.subproblems import Subproblems
from solver.tasks.ways_out import WayOut, purchase

FromUsual = Callable[[Answer, AskedDrink, Clock], float]
BestOf = Callable[[Bar], tuple[str, Answer] | None]


@dataclass(frozen=True)
class Bought:
    """A purchase of one ingredient, and the drink of a profile that it makes possible."""

    profile: str
    way: WayOut


@dataclass(frozen=True)
class WhyNoProfile:
    """What rules out every profile: wishes that conflict, or cannot be kept at all.

    `bought` is the purchase whose drink is nearest to its aims and most in keeping; None if no
    single one helps. `cut` is true if there was no time for every profile.
    """

    conflicts: tuple[tuple[Demand, ...], ...]
    bought: Bought | None
    cut: bool


def why_no_profile(
    each: Sequence[AskedDrink], bar: Bar, backend: Backend, clock: Clock,
    from_usual: FromUsual, best_of: BestOf,
) -> WhyNoProfile:  # fmt: skip
    """What rules out all of `each`, which are proven to have no drink.

    `from_usual` returns the worth of a drink below that of the best of its profile; `best_of` the
    profile with the best drink of another bar, and that drink.
    """
    several = [Subproblems(asked, backend, clock) for asked in each]
    conflicts: list[tuple[Demand, ...]] = []
    try:
        conflicts += _of_all(several, bar)
        missing = _missing(several, bar)
        if missing:  # what is asked for has to be bought, whatever else is
            return WhyNoProfile(
                tuple(conflicts), _of_one(missing, bar, best_of), cut=clock.left == 0
            )
        found = _Found()
        for problems in several:
            found.take(purchase(problems, 1), problems.asked, from_usual, clock)
    except TimeUpError:
        return WhyNoProfile(tuple(conflicts), None, cut=True)
    return WhyNoProfile(tuple(conflicts), found.best, cut=False)


def _missing(several: Sequence[Subproblems], bar: Bar) -> list[Ingredient]:
    """Ingredients that are asked for and not on the shelf, or past their last day."""
    there = {row.ingredient.key for row in bar.stock}
    wanted = (d for d in several[0].asked.demands if d.kind is DemandKind.WITH) if several else ()
    keys = dict.fromkeys(d.subject for d in wanted if d.subject not in there)
    return [item for item in map(bar.library.get, keys) if item is not None]


def _of_one(missing: Sequence[Ingredient], bar: Bar, best_of: BestOf) -> Bought | None:
    """The best drink if the one missing ingredient is bought."""
    if len(missing) > 1:
        return None
    best = best_of(bar.with_bottle(missing[0]))
    return None if best is None else Bought(best[0], WayOut((), best[1], tuple(missing)))


@dataclass
class _Found:
    """The best purchase so far: nearest to the aims of its profile, ties by what is in keeping."""

    best: Bought | None = None
    rank: tuple[float, float, str] = (math.inf, math.inf, "")

    def take(
        self, way: WayOut | None, asked: AskedDrink, from_usual: FromUsual, clock: Clock
    ) -> None:
        """Consider one more purchase, if the profile has one."""
        if way is None:
            return
        name = asked.profile.name
        rank = (round(way.answer.off_aim, 6), from_usual(way.answer, asked, clock), name)
        if self.best is None or rank < self.rank:
            self.best, self.rank = Bought(name, way), rank


def _of_all(several: Sequence[Subproblems], bar: Bar) -> Iterator[tuple[Demand, ...]]:
    """Single wishes that no profile can keep, and pairs of a wish and what avoids it."""
    if not several:
        return
    wishes = [demand for demand in several[0].asked.demands if demand.kind not in STRUCTURE]
    asked = [demand for demand in wishes if _is_asked(demand)]
    alone = [d for d in asked if all(_ruled_out(problems, d) for problems in several)]
    yield from ((demand,) for demand in alone)
    for wanted in asked:
        item = bar.library.get(wanted.subject) if wanted.kind is DemandKind.WITH else None
        for demand in asked:
            avoided = demand.avoids
            if item is not None and avoided and avoided.against(bar.told_of(item)):
                yield (wanted, demand)


def _is_asked(demand: Demand) -> bool:
    return demand.origin.kind is From.REQUEST


def _ruled_out(problems: Subproblems, wish: Demand) -> bool:
    """Whether a profile has no drink with one wish alone."""
    own = problems.asked.demands
    others = [each for each in own if each != wish and each.kind not in STRUCTURE]
    return problems.any(others) is None
