"""Which amounts of which bottles fill which part, by the rules that are in force.

A rule that is lifted takes its bound away and adds nothing else, so that whatever may be poured
under it may be poured without it. Conflicts are found by dropping demands, and rest on that: the
least of what is shown is therefore found once, among the pours of all rules.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain
from typing import Literal

from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile
from solver.pantry.stocked import Stocked
from solver.quantities import PourSpan
from solver.requests.request import finer_bar
from solver.requests.unusual_pours import oddness, usual_amount
from solver.search.problem import Candidate, Former

COUNTED = ("dash", "spoon", "drop")
"""Tools that somebody who asks for a bar spoon of something has in hand, whatever its own tool."""
SAME_AMOUNT = 1e-9
"""Share by which two amounts differ that are the same pour: rounding only."""
BASE = "base"
"""The part of a profile whose ingredient may be as loud as it is."""
SHOWN = 1.5
"""Usual pours of what a drink shows that are as usual there as one is elsewhere: our own choice. A
base is the largest of a drink as it is, and of equal parts none can be more than another."""
WIDER = (0.5, 1.5)
"""Factors on the ends of a part's range where its pours are free."""

Amounts = tuple[float, ...]
Where = Literal["shelf", "shop"]
Spans = Mapping[str, Sequence[PourSpan]]
"""Ranges of pours, by the key of the ingredient."""
Formers = Mapping[tuple[int, str], Former]
"""What changes are counted from, by the position of a part and the key of an ingredient."""


@dataclass(frozen=True)
class Rules:
    """What a pour must keep.

    Nothing of what is `avoided` speaks against it. It can be measured with the bar's
    own pour set, or with a `finer` one too. It is in its part's range, which is widened in `loose`
    parts, or in one of all the spans that were `wished` for of the ingredient: each makes room for
    itself. It is in every span that is `held`. What is loud is poured no more than is usual of it,
    but as the base, where the profile names it, and where it was `asked` for. What is `shown` is
    poured at least as usual, where that is `noticed`. It is no more than the stock has for
    `serves`; 0 asks nothing of the stock.
    """

    avoided: frozenset[Avoidance] = frozenset()
    finer: bool = False
    loose: frozenset[str] = frozenset()
    wished: Spans = field(default_factory=dict)
    held: Spans = field(default_factory=dict)
    asked: frozenset[str] = frozenset()
    shown: frozenset[str] = frozenset()
    noticed: frozenset[str] = frozenset()
    serves: int = 0


class Pourables:
    """What may be poured of a bar in a profile's parts; what is asked twice is remembered."""

    def __init__(
        self, profile: Profile, bar: Bar, taste: BarTaste, formers: Formers | None = None
    ) -> None:
        self.profile = profile
        self.formers = formers or {}
        self.bar = bar
        self.taste = taste
        self.pours = [profile.part_pours(part, bar.measures) for part in profile.parts]
        self._shelf = [_accepted(part, bar.stock) for part in profile.parts]
        self._excluded: dict[tuple[Avoidance, Where], frozenset[str]] = {}
        self._amounts: dict[object, Amounts] = {}
        self._odd: dict[tuple[str, int, Amounts, bool], tuple[float, ...]] = {}

    @cached_property
    def shop(self) -> tuple[Stocked, ...]:
        """What the library has and the shelf has not."""
        stocked = {item.ingredient.key for item in self.bar.stock}
        return tuple(Stocked(each) for each in self.bar.library if each.key not in stocked)

    def candidates(self, rules: Rules, *, shop: bool = False) -> tuple[Candidate, ...]:
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
                            former=self.formers.get((index, stocked.ingredient.key), Former()),
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
        self, item: Ingredient, index: int, amounts: Amounts, rules: Rules
    ) -> tuple[float, ...]:
        """How unusual each of some amounts of an ingredient is in a part."""
        part = self.profile.parts[index]
        more = item.key in rules.shown and part.name not in {BASE, *self.profile.equal}
        asked = (item.key, index, amounts, more)
        if asked not in self._odd:
            usual, tool = self.usual(item, index), part.tool or item.tool
            usual = SHOWN * usual if usual and more else usual
            self._odd[asked] = oddness(
                item, tool, amounts, usual, load_counts(), self.bar, named=item.key in part.usual
            )
        return self._odd[asked]

    @cached_property
    def _fitting_shop(self) -> list[tuple[Stocked, ...]]:
        return [_accepted(part, self.shop) for part in self.profile.parts]

    def _barred(self, rules: Rules, where: Where) -> set[str]:
        """The keys of what is avoided."""
        return {key for each in rules.avoided for key in self._excluded_by(each, where)}

    def _excluded_by(self, avoided: Avoidance, where: Where) -> frozenset[str]:
        if (avoided, where) not in self._excluded:
            told = ((s.ingredient.key, self.bar.told_of(s.ingredient)) for s in self._rows(where))
            self._excluded[avoided, where] = frozenset(
                key for key, disclosure in told if avoided.against(disclosure)
            )
        return self._excluded[avoided, where]

    def _rows(self, where: Where) -> tuple[Stocked, ...]:
        return self.bar.stock if where == "shelf" else self.shop

    def _poured(self, stocked: Stocked, index: int, rules: Rules) -> Amounts:
        """What may be poured of a bottle in a part, ascending."""
        key, part = stocked.ingredient.key, self.profile.parts[index]
        wished, held = tuple(rules.wished.get(key, ())), tuple(rules.held.get(key, ()))
        most = self._most(stocked.ingredient, part, rules)
        least = self._as_usual(stocked, index) if key in rules.noticed else None
        asked = (key, index, rules.finer, part.name in rules.loose, wished, held, most, least)
        if asked not in self._amounts:
            each = self.pours[index].each.traded
            if part.name in rules.loose:
                each = replace(each, low=each.low * WIDER[0], high=each.high * WIDER[1])
            bars = [self.bar, *([self._finer] if rules.finer and self._finer else [])]
            own = _measured(stocked, part, each, bars)
            more = (_measured(stocked, part, span, bars, fine=True) for span in wished)
            amounts = _together((self._as_it_was(index, key), own, *more))
            for span in held:
                amounts = _shared(amounts, _measured(stocked, part, span, bars, fine=True))
            if least is not None:
                amounts = tuple(amount for amount in amounts if amount >= least * (1 - SAME_AMOUNT))
            if most is not None:
                amounts = tuple(amount for amount in amounts if amount <= most * (1 + SAME_AMOUNT))
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
        own = self._poured(stocked, index, Rules(asked=frozenset({stocked.ingredient.key})))
        nearest = min(own, key=lambda amount: abs(math.log(amount / usual)), default=usual)
        return min(nearest, usual)

    def _most(self, item: Ingredient, part: Part, rules: Rules) -> float | None:
        """The most of a loud ingredient in a part; None where it is not bounded.

        A spec pours what it pours; what stands in there was chosen by how loud it is before.
        """
        told = part.name in {BASE, *rules.loose} or item.key in {*rules.asked, *part.usual}
        free = told or self.profile.of_spec
        return None if free or item.per != "ml" else load_counts().most_ml(item.key)

    def _as_it_was(self, index: int, key: str) -> Amounts:
        """What was poured, which may be poured again, whatever the jigger."""
        former = self.formers.get((index, key))
        return (former.amount,) if former is not None and former.same else ()

    @cached_property
    def _finer(self) -> Bar | None:
        return finer_bar(self.bar)


def _accepted(part: Part, stock: Iterable[Stocked]) -> tuple[Stocked, ...]:
    return tuple(stocked for stocked in stock if part.accepts(stocked.ingredient))


def _measured(
    stocked: Stocked, part: Part, span: PourSpan, bars: Sequence[Bar], *, fine: bool = False
) -> Amounts:
    """What the tools of any of some bars measure of a bottle within a span.

    With `fine`, in the steps of the jigger, though mixers and the like are poured more coarsely:
    who asks for 100 mL of soda means it.
    """
    tool = span.tool if span.tool in COUNTED else part.tool
    return _together(
        bar.pour_set.amounts_of(stocked.ingredient, span, bar.measures, tool, fine=fine)
        for bar in bars
    )


def _together(several: Iterable[Amounts]) -> Amounts:
    """Every amount once, ascending."""
    kept: list[float] = []
    for amount in sorted(chain.from_iterable(several)):
        if not kept or not _same(amount, kept[-1]):
            kept.append(amount)
    return tuple(kept)


def _shared(amounts: Amounts, others: Amounts) -> Amounts:
    """The amounts that are among others too."""
    return tuple(a for a in amounts if any(_same(a, other) for other in others))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_AMOUNT * max(abs(one), abs(other))
