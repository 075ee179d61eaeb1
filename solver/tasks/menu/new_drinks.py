"""Design new drinks for a menu from what must be poured, each the most in keeping of its profile.

Profiles are chosen by worth: those in which a drink with the ingredient is least below the best
set. Of each drink found, variants with more of the ingredient are designed as long as they are on
target; the menu chooses among them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from solver.clock import Clock, TimeUpError, Work
from solver.drinks.answer import Answer
from solver.harmony.feature import featuring
from solver.harmony.harmony import BottleWish, Harmony
from solver.harmony.taste import BarTaste
from solver.measures import MEASURES
from solver.pantry.avoidance import Avoidance, all_against
from solver.pantry.bar import Bar
from solver.pantry.bottled import made_here
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Profile
from solver.pantry.profile_files import readable_profiles
from solver.pantry.stocked import Stocked, in_order
from solver.quantities import PourSpan, Span, Unit
from solver.requests.allowed_pours import Pourables
from solver.requests.asked_drink import AskedDrink
from solver.requests.bar_taste import taste_of
from solver.requests.in_keeping_sets import InKeepingSets
from solver.requests.leaves import lacks_leaves
from solver.requests.request import IngredientWish, MeasureWish, Request
from solver.search.milp.backend import Backend
from solver.search.presolve import trivially_infeasible
from solver.search.sets.best_first import best_first
from solver.tasks.design import design
from solver.tasks.design_result import Design

AT_HOME, THIRSTY = 3, 1
"""Profiles that are asked for a drink of one ingredient, those in which it is most at home and,
of as many again, that which pours most of it: our own choice."""
MORE, MOST = 1.25, 1.75
"""Of a drink, how much more of its ingredient is asked for, in factors on its pour."""
ON_TARGET = 1e-9


@dataclass(frozen=True)
class FoundDrink:
    """A drink of a design; drinks of the same `family` only differ in amounts."""

    design: Design
    answer: Answer
    made_for: str
    family: str


@dataclass(frozen=True)
class NewDrinks:
    """Designs for a menu from what a bar may pour.

    `serves` is the number that the stock must suffice for; `most_cost` an upper limit on the cost,
    None for none.
    """

    bar: Bar
    serves: int
    most_cost: float | None
    backend: Backend

    def of(
        self, keys: Sequence[str], guests: Sequence[Avoidance], clock: Clock
    ) -> Iterator[FoundDrink]:
        """Yield drinks with each ingredient, and drinks that suit each guest, as time allows."""
        items, taste = [self.bar.bottles.find(key) for key in keys], taste_of(self.bar)
        known = [
            _Known.of(profile, self.bar, taste, clock)
            for profile in readable_profiles(self.bar.profiles)[0]
            if not profile.only_longer
            if any(part.accepts(item) for part in profile.parts for item in items)
        ]
        profiles = [each for each in known if each is not None]
        asked = [(key, guest) for key in keys for guest in (None, *guests)]
        for at, (key, guest) in enumerate(asked):
            clock.tell(Work.ITEMS, at, len(asked))
            mine = clock.unwatched.within(clock.left / (len(asked) - at))
            avoided = () if guest is None else (guest,)
            chosen = _nearest(profiles, key, avoided, self.bar, mine)
            for known_ in chosen[: 1 if guest else None]:
                if not mine.left:
                    break
                yield from self._drinks(known_.asked, key, avoided, mine)

    def _drinks(
        self, plain: AskedDrink, key: str, avoided: tuple[Avoidance, ...], clock: Clock
    ) -> Iterator[FoundDrink]:
        """Yield the drink of a profile, one of another base, and both with more of the
        ingredient."""
        request = Request(
            measures=self._cost(), unwanted=avoided, feature=(key,), serves=self.serves,
            alternatives=1,
        )  # fmt: skip
        found = self._designed(plain, request, clock)
        for answer in (found.answer, *found.alternatives):
            if answer is not None and answer.off_aim <= ON_TARGET:
                family = " ".join(sorted(item.key for item in answer.ingredients))
                family = f"{plain.profile.name}: {family}"
                yield FoundDrink(found, answer, key, family)
                yield from self._more(plain, request, answer, key, family, clock)

    def _more(
        self,
        plain: AskedDrink,
        request: Request,
        answer: Answer,
        key: str,
        family: str,
        clock: Clock,
    ) -> Iterator[FoundDrink]:
        poured = sum(pour.amount for pour in answer.pours if pour.ingredient.key == key)
        item = next(pour.ingredient for pour in answer.pours if pour.ingredient.key == key)
        if item.per != "ml" or not clock.left:
            return
        span = PourSpan(poured * MORE, poured * MOST, Unit.ML, "more")
        same = tuple(IngredientWish(each.key) for each in answer.ingredients if each.key != key)
        wished = replace(request, wanted=(*same, IngredientWish(key, span)), alternatives=0)
        found = self._designed(plain, wished, clock)
        if found.answer is not None and found.answer.off_aim <= ON_TARGET:
            yield FoundDrink(found, found.answer, key, family)

    def _designed(self, plain: AskedDrink, request: Request, clock: Clock) -> Design:
        asked = plain.again(request)
        return design(plain.profile, self.bar, request, self.backend, clock=clock, plain=asked)

    def _cost(self) -> tuple[MeasureWish, ...]:
        if self.most_cost is None:
            return ()
        return (MeasureWish(MEASURES["cost"], Span(high=self.most_cost)),)


@dataclass(frozen=True)
class _Known:
    """A profile with its sets of ingredients, and the worth of its best set."""

    asked: AskedDrink
    harmony: Harmony
    best: int

    @classmethod
    def of(cls, profile: Profile, bar: Bar, taste: BarTaste, clock: Clock) -> _Known | None:
        """The profile; None if the bar can't make such a drink, or there is no time."""
        if not clock.left or lacks_leaves(profile, bar):
            return None
        asked = AskedDrink.of(profile, bar, Request(), Pourables(profile, bar, taste))
        problem = asked.problem()
        if trivially_infeasible(problem):
            return None
        harmony = InKeepingSets(asked, problem).harmony
        try:
            first = next(best_first(harmony.question(), clock), None)
        except TimeUpError:
            return None
        return None if first is None else cls(asked, harmony, first.worth)

    def usual(self, item: Ingredient) -> float:
        """The largest usual pour of an ingredient in such a drink; 0 if unknown."""
        parts = zip(self.asked.profile.parts, self.asked.pourables.pours, strict=True)
        return max((pours.usual or 0.0 for part, pours in parts if part.accepts(item)), default=0.0)

    def loss(self, key: str, barred: frozenset[str], clock: Clock) -> int | None:
        """How much less the best set that features an ingredient is worth than the best set.

        None if there is no such set, or no time.
        """
        wishes = featuring(self.harmony, key)
        if not wishes:
            return None
        try:
            question = self.harmony.question([*wishes, BottleWish(barred, high=0)])
            first = next(best_first(question, clock), None)
        except TimeUpError:
            return None
        return None if first is None else self.best - first.worth


def _nearest(
    profiles: Sequence[_Known], key: str, avoided: Sequence[Avoidance], bar: Bar, clock: Clock
) -> list[_Known]:
    """Profiles to design a drink of an ingredient for, one of each family."""
    barred = frozenset(
        row.ingredient.key for row in bar.stock if all_against(bar.told_of(row.ingredient), avoided)
    )
    losses = ((each.loss(key, barred, clock), each) for each in profiles)
    ranked = sorted(
        ((loss, each.asked.profile.name, each) for loss, each in losses if loss is not None),
        key=lambda told: told[:2],
    )
    families: dict[str, _Known] = {}
    for _, _, each in ranked:
        families.setdefault(each.asked.profile.origin[-1].stem, each)
    best = list(families.values())
    next_ = best[AT_HOME : 3 * AT_HOME]
    most = sorted(next_, key=lambda each: -each.usual(bar.bottles.find(key)))
    return [*best[:AT_HOME], *most[:THIRSTY]]


def pourable(bar: Bar, keys: Sequence[str], last: date, *, buying: bool, priced: bool) -> Bar:
    """The bar for designs of some ingredients, with what will be there as long as they are.

    Without buying, what ends before the last of those ingredients (at most on the `last` night) is
    left out, unless the house makes more of it. Amounts of what is made or bought are up to the
    menu. With `priced`, what has no price is left out.
    """
    fruit = fruit_by_juice(bar.library)
    rows = {row.ingredient.key: row for row in (*bar.past, *bar.stock)}
    ends = [rows[key].use_by or last for key in keys if key in rows]
    until = min(last, max(ends, default=last))

    def more(key: str) -> bool:
        whole = rows.get(fruit[key].key) if key in fruit else None
        at_hand = whole is not None and whole.on_hand != 0 and not whole.past(bar.today)
        item = bar.bottles.find(key)
        made = key in bar.recipes or (key not in fruit and made_here(item, rows.get(key)))
        return buying or at_hand or made

    def seen() -> Iterator[Stocked]:
        for key, row in rows.items():
            if more(key):
                yield replace(row, on_hand=None, opened=None, dated=None)
            elif not row.past(bar.today) and (
                key in keys or row.use_by is None or row.use_by >= until
            ):
                yield row

    stock = (row for row in seen() if row.price_per_unit is not None or not priced)
    return replace(bar, stock=in_order(stock), past=())
