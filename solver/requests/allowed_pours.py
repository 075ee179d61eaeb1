"""The candidates of a request: which bottles may fill which part, and with which amounts.

Lifting a rule never removes an amount. Conflicts, which are found by dropping demands, rest on
that; so the least amount of what is featured is found once, with all rules in force.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain
from typing import Literal

from solver.harmony.counted import load_counts
from solver.harmony.harmony import Known
from solver.harmony.taste import BarTaste
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile
from solver.pantry.stocked import Stocked
from solver.quantities import PourSpan
from solver.requests.pour_oddness import oddness, usual_amount
from solver.requests.request import finer_bar
from solver.search.problem import Candidate, PouredBefore
from solver.search.tolerances import SAME_POUR

ALWAYS_AT_HAND = ("dash", "spoon", "drop")
"""Tools in which any ingredient may be asked for, whatever its own tool."""
BASE = "base"
"""The part of a profile whose ingredients may be loud."""
FEATURED_POURS = 1.5
"""The usual amount of a featured ingredient, in usual pours: our own choice. Not of a base, which
is the largest pour anyway, nor of parts that are poured alike."""
WIDENED_RANGE = (0.5, 1.5)
"""Factors on the ends of a part's range if the demand on its pours is dropped."""

Amounts = tuple[float, ...]
ShelfOrShop = Literal["shelf", "shop"]
Spans = Mapping[str, Sequence[PourSpan]]
"""Ranges of pours, by the key of the ingredient."""
BeforeByPlace = Mapping[tuple[int, str], PouredBefore]
"""The pours from which changes are counted, by (position of a part, key of an ingredient)."""


@dataclass(frozen=True)
class PourRules:
    """The rules on single pours that are in force; keys are of ingredients, names of parts.

    - `avoided`: nothing of these is in the ingredient.
    - `finer`: the amount may be measured with a finer pour set than the bar's, too.
    - `loose`: parts whose range of pours is widened.
    - `wished`: ranges by key; an amount is in its part's range or in one of these.
    - `held`: ranges by key; an amount is in all of these.
    - `asked`: keys of ingredients that may be poured as loud as anybody likes. Others are poured no
      more than is usual of them, except as the base and where the profile names them.
    - `featured`: keys of what the drink is to show; `featured_in_full`: those of them of which no
      less than is usual is poured.
    - `serves`: the stock is enough for so many; 0 if it need not be.
    """

    avoided: frozenset[Avoidance] = frozenset()
    finer: bool = False
    loose: frozenset[str] = frozenset()
    wished: Spans = field(default_factory=dict)
    held: Spans = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    featured: frozenset[str] = frozenset()
    featured_in_full: frozenset[str] = frozenset()
    serves: int = 0


class Pourables:
    """The pours that a profile allows at a bar, under given rules; results are cached."""

    def __init__(
        self,
        profile: Profile,
        bar: Bar,
        taste: BarTaste,
        poured_before: BeforeByPlace | None = None,
    ) -> None:
        self.profile = profile
        self.poured_before = poured_before or {}
        self.bar = bar
        self.taste = taste
        self.pours = [profile.part_pours(part, bar.measures) for part in profile.parts]
        self._shelf = [_accepted(part, bar.stock) for part in profile.parts]
        self._excluded: dict[tuple[Avoidance, ShelfOrShop], frozenset[str]] = {}
        self._amounts: dict[object, Amounts] = {}
        self._odd: dict[tuple[str, int, Amounts, bool], tuple[float, ...]] = {}

    @cached_property
    def known(self) -> Known:
        """What is in keeping of everything that the bar knows."""
        return Known(self.profile, self.bar.bottles, load_counts(), self.taste)

    @cached_property
    def shop(self) -> tuple[Stocked, ...]:
        """What the library has and the shelf has not."""
        stocked = {item.ingredient.key for item in self.bar.stock}
        return tuple(Stocked(each) for each in self.bar.library if each.key not in stocked)

    def candidates(self, rules: PourRules, *, shop: bool = False) -> tuple[Candidate, ...]:
        """The candidates by some rules, with `shop` those too that would have to be bought."""
        barred = self._barred(rules, "shelf") | (self._barred(rules, "shop") if shop else set())
        found: list[Candidate] = []
        for index, part in enumerate(self.profile.parts):
            for stocked in (*self._shelf[index], *(self._fitting_shop[index] if shop else ())):
                gone = stocked.ingredient.key in barred
                amounts = () if gone else self._poured(stocked, index, rules)
                if amounts:
                    found.append(
                        Candidate(
                            ingredient=stocked.ingredient.key,
                            part=index,
                            amounts=amounts,
                            composition=self.bar.composition(stocked.ingredient),
                            cost=stocked.price_per_unit,
                            top=part.stage == "top",
                            before=self.poured_before.get(
                                (index, stocked.ingredient.key), PouredBefore()
                            ),
                            oddness=self._oddness(stocked.ingredient, index, amounts, rules),
                        )
                    )
        return tuple(found)

    def usual(self, item: Ingredient, index: int) -> float | None:
        """How much of an ingredient is usual in a part, in its own unit; None where not known."""
        pours = self.pours[index]
        in_part = pours.usual if pours.each.unit == item.per else None
        return usual_amount(item, in_part, load_counts(), self.taste)

    def _oddness(
        self, item: Ingredient, index: int, amounts: Amounts, rules: PourRules
    ) -> tuple[float, ...]:
        """How unusual each of some amounts of an ingredient is in a part."""
        part = self.profile.parts[index]
        more = item.key in rules.featured and part.name not in {BASE, *self.profile.equal}
        asked = (item.key, index, amounts, more)
        if asked not in self._odd:
            usual, tool = self.usual(item, index), part.tool or item.tool
            usual = FEATURED_POURS * usual if usual and more else usual
            self._odd[asked] = oddness(
                item, tool, amounts, usual, load_counts(), self.bar, named=item.key in part.usual
            )
        return self._odd[asked]

    @cached_property
    def _fitting_shop(self) -> list[tuple[Stocked, ...]]:
        return [_accepted(part, self.shop) for part in self.profile.parts]

    def _barred(self, rules: PourRules, where: ShelfOrShop) -> set[str]:
        """The keys of avoided ingredients."""
        return {key for each in rules.avoided for key in self._excluded_by(each, where)}

    def _excluded_by(self, avoided: Avoidance, where: ShelfOrShop) -> frozenset[str]:
        if (avoided, where) not in self._excluded:
            told = ((s.ingredient.key, self.bar.told_of(s.ingredient)) for s in self._rows(where))
            self._excluded[avoided, where] = frozenset(
                key for key, disclosure in told if avoided.against(disclosure)
            )
        return self._excluded[avoided, where]

    def _rows(self, where: ShelfOrShop) -> tuple[Stocked, ...]:
        return self.bar.stock if where == "shelf" else self.shop

    def _poured(self, stocked: Stocked, index: int, rules: PourRules) -> Amounts:
        """The allowed amounts of a bottle in a part, ascending."""
        key, part = stocked.ingredient.key, self.profile.parts[index]
        wished, held = tuple(rules.wished.get(key, ())), tuple(rules.held.get(key, ()))
        most = self._most(stocked.ingredient, part, rules)
        least = self._as_usual(stocked, index) if key in rules.featured_in_full else None
        asked = (key, index, rules.finer, part.name in rules.loose, wished, held, most, least)
        if asked not in self._amounts:
            each = self.pours[index].each.traded
            if part.name in rules.loose:
                each = replace(
                    each, low=each.low * WIDENED_RANGE[0], high=each.high * WIDENED_RANGE[1]
                )
            bars = [self.bar, *([self._finer] if rules.finer and self._finer else [])]
            own = _measured(stocked, part, each, bars)
            more = (_measured(stocked, part, span, bars, fine=True) for span in wished)
            amounts = _together((self._as_it_was(index, key), own, *more))
            for span in held:
                amounts = _shared(amounts, _measured(stocked, part, span, bars, fine=True))
            if least is not None:
                amounts = tuple(amount for amount in amounts if amount >= least * (1 - SAME_POUR))
            if most is not None:
                amounts = tuple(amount for amount in amounts if amount <= most * (1 + SAME_POUR))
            self._amounts[asked] = amounts
        return tuple(a for a in self._amounts[asked] if stocked.has(a * rules.serves))

    def _as_usual(self, stocked: Stocked, index: int) -> float | None:
        """The least of a bottle in a part that is as usual; None where that is not known.

        It is what comes nearest to the usual amount of all that the part and the bar's own pour set
        allow, whatever rule is lifted: with a wider range or a finer jigger another amount would be
        nearest, and one that was enough would be too little.
        """
        usual = self.usual(stocked.ingredient, index)
        if usual is None:
            return None
        own = self._poured(stocked, index, PourRules(asked=frozenset({stocked.ingredient.key})))
        nearest = min(own, key=lambda amount: abs(math.log(amount / usual)), default=usual)
        return min(nearest, usual)

    def _most(self, item: Ingredient, part: Part, rules: PourRules) -> float | None:
        """The most of a loud ingredient in a part; None if it is not bounded.

        Lines of a spec are not bounded: loudness was considered when stand-ins were chosen.
        """
        told = part.name in {BASE, *rules.loose} or item.key in {*rules.asked, *part.usual}
        free = told or self.profile.of_spec
        return None if free or item.per != "ml" else load_counts().most_ml(item.key)

    def _as_it_was(self, index: int, key: str) -> Amounts:
        """The amount poured before, which stays allowed whatever the jigger; empty if none."""
        before = self.poured_before.get((index, key))
        return (before.amount,) if before is not None and before.same else ()

    @cached_property
    def _finer(self) -> Bar | None:
        return finer_bar(self.bar)


def _accepted(part: Part, stock: Iterable[Stocked]) -> tuple[Stocked, ...]:
    return tuple(stocked for stocked in stock if part.accepts(stocked.ingredient))


def _measured(
    stocked: Stocked, part: Part, span: PourSpan, bars: Sequence[Bar], *, fine: bool = False
) -> Amounts:
    """The amounts of a bottle within a range that the tools of any of the bars can measure.

    With `fine`, in steps of the jigger even of what is usually poured more coarsely, as mixers are.
    """
    tool = span.tool if span.tool in ALWAYS_AT_HAND else part.tool
    return _together(
        bar.pour_set.amounts_of(stocked.ingredient, span, bar.measures, tool, fine=fine)
        for bar in bars
    )


def _together(several: Iterable[Amounts]) -> Amounts:
    """The union, ascending."""
    kept: list[float] = []
    for amount in sorted(chain.from_iterable(several)):
        if not kept or not _same(amount, kept[-1]):
            kept.append(amount)
    return tuple(kept)


def _shared(amounts: Amounts, others: Amounts) -> Amounts:
    """The intersection."""
    return tuple(a for a in amounts if any(_same(a, other) for other in others))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_POUR * max(abs(one), abs(other))
