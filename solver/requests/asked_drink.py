"""A request of a bar as named demands, and the search problem without some of them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from solver.harmony.taste import BarTaste
from solver.measures import Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, PartPours, Profile
from solver.quantities import PourSpan
from solver.requests.allowed_pours import Amounts, Pourables, PourRules
from solver.requests.bar_taste import taste_of
from solver.requests.character_amounts import with_characters
from solver.requests.choice_constraints import one_instead_of_another, purchases
from solver.requests.demands import Demand, DemandKind, bounds_of, stock_of, structure_of, wishes_of
from solver.requests.leaves import garnish_of, wished_leaves
from solver.requests.read_character import tastes_of
from solver.requests.request import (
    Request,
    check_prices,
    curve_of,
    targets_of,
)
from solver.search.problem import Aim, Candidate, Choice, PartRule, Problem

MOST_IN_A_PART = 2
"""If the demand on its count is dropped, a part may be empty, or hold one more up to this."""


@dataclass(frozen=True)
class AskedDrink:
    """Everything that a request asks of a bar, as demands that can be dropped one by one."""

    profile: Profile
    bar: Bar
    request: Request
    demands: tuple[Demand, ...]
    aims: tuple[Aim, ...]
    pourables: Pourables = field(compare=False, repr=False)
    _by_demand: dict[Demand, dict[tuple[str, int], Amounts]] = field(
        default_factory=dict, compare=False, repr=False
    )

    @classmethod
    def of(
        cls, profile: Profile, bar: Bar, request: Request, pourables: Pourables | None = None
    ) -> AskedDrink:
        """The demands of a request; `pourables` are those of the profile and the bar, if known.

        Raises:
            BadInput, BadInputs: the profile can't be read, or the glass is not known.
        """
        aims, bounds = targets_of(profile, bar, request)
        laid_in = wished_leaves(profile, bar, request)
        wishes = [each for each in wishes_of(request, bar) if each.subject not in laid_in]
        pourables = pourables or _pourables(profile, bar)
        structure = structure_of(profile, pourables.pours, bar)
        demands = tuple(dict.fromkeys([*bounds_of(bounds, bar), *wishes, *structure]))
        asked = cls(profile, bar, request, demands, aims, pourables)
        stock = stock_of(request)
        # A bottle may be short that only comes in where a wish is dropped.
        free = frozenset(wishes)
        short = pourables.candidates(asked._rules(free))
        if short != pourables.candidates(asked._rules(free | {stock})):
            return replace(asked, demands=(*demands, stock))
        return asked

    def again(self, request: Request) -> AskedDrink:
        """Another request of the same bar and profile."""
        return AskedDrink.of(self.profile, self.bar, request, self.pourables)

    def shown_less(self) -> AskedDrink | None:
        """The same request with any amount of what is featured; None if nothing is."""
        kept = tuple(demand for demand in self.demands if demand.kind is not DemandKind.SHOWN)
        return replace(self, demands=kept, _by_demand={}) if len(kept) < len(self.demands) else None

    @property
    def taste(self) -> BarTaste:
        """What the bar's own files say about what goes together."""
        return self.pourables.taste

    def problem(
        self, dropped: Collection[Demand] = (), moved: Mapping[Demand, float] | None = None,
        *, bought: int = 0,
    ) -> Problem:  # fmt: skip
        """The problem without some demands, and with the bounds of others moved.

        So many ingredients of the library that are not on the shelf may be `bought` for it.

        Raises:
            BadInput: there is no price where the cost matters.
        """
        gone = frozenset(dropped)
        moved = moved or {}
        rules = zip(self.profile.parts, self.pourables.pours, strict=True)
        parts = tuple(_rule(part, pours, gone) for part, pours in rules)
        poured = self.pourables.candidates(self._rules(gone), shop=bought > 0)
        candidates = with_characters(poured, self.characters, self.pourables)
        shop = {stocked.ingredient.key for stocked in self.pourables.shop} if bought else set()
        kept = [replace(d, bound=moved.get(d, d.bound)) for d in self.demands if d not in gone]
        limits = tuple(limit for limit in (demand.limit for demand in kept) if limit)
        problem = Problem(
            candidates,
            parts,
            curve_of(self.profile.technique, self.bar),
            limits,
            (
                *_choices(self.bar, kept, candidates),
                *one_instead_of_another(self.profile, candidates),
                *purchases(candidates, shop, bought),
            ),
            self.aims,
            self.request.goal,
            self._equal(),
            self.characters,
        )
        if not gone:  # what comes in only because a demand is dropped may be without a price
            check_prices(problem, self.bar, optional=shop)
        return problem

    @cached_property
    def characters(self) -> tuple[Measure, ...]:
        """The characters of which it is asked how loud they are, those too that may be dropped."""
        named = [*(d.measure for d in self.demands if d.measure), *(a.measure for a in self.aims)]
        return tuple(dict.fromkeys(measure for measure in named if measure.tags))

    def garnish_on(self, poured: Collection[Ingredient]) -> str | None:
        """The garnish of such a drink; None if it has none, or somebody avoids it."""
        return garnish_of(self.profile, poured, self.bar, self.request)

    def keeps(self, demand: Demand, poured: Collection[tuple[str, int, float]]) -> bool:
        """Whether pours (ingredient, part, amount) keep a demand on pours."""
        if demand.kind is DemandKind.WITH:
            return any(key == demand.subject for key, _, _ in poured)
        if demand.kind is DemandKind.CHARACTER:
            found = (self.bar.bottles.find(key) for key, _, _ in poured)
            return any(tastes_of(item, demand.tags) for item in found)
        alone = self._alone(demand)
        return all(amount in alone.get((key, part), ()) for key, part, amount in poured)

    def _alone(self, demand: Demand) -> dict[tuple[str, int], Amounts]:
        """The allowed amounts of each (ingredient, part) with a single demand in force."""
        if demand not in self._by_demand:
            gone = frozenset(self.demands) - {demand}
            found = self.pourables.candidates(self._rules(gone))
            self._by_demand[demand] = {(c.ingredient, c.part): c.amounts for c in found}
        return self._by_demand[demand]

    def _rules(self, gone: frozenset[Demand]) -> PourRules:
        """The rules on single pours that stay in force."""
        kinds = {demand.kind for demand in gone}
        kept = [demand for demand in self.demands if demand not in gone]
        return PourRules(
            avoided=frozenset(d.avoids for d in kept if d.avoids is not None),
            finer=DemandKind.JIGGER in kinds,
            loose=frozenset(d.subject for d in gone if d.kind is DemandKind.POURS),
            asked=frozenset(d.subject for d in self.demands if d.kind is DemandKind.WITH),
            featured=frozenset(self.request.feature),
            featured_in_full=frozenset(d.subject for d in kept if d.kind is DemandKind.SHOWN),
            wished=_spans(self.demands),
            held=_spans(kept),
            serves=0 if DemandKind.STOCK in kinds else self.request.serves,
        )

    def _equal(self) -> frozenset[int]:
        """The parts of which every pour is as large as every other, unless a pour was asked for."""
        if any(demand.span is not None for demand in self.demands):
            return frozenset()
        names = [part.name for part in self.profile.parts]
        return frozenset(map(names.index, self.profile.equal))


def _pourables(profile: Profile, bar: Bar) -> Pourables:
    """What a profile may pour at a bar; one that the bar has read is asked for again and again."""
    if not bar.has_read(profile):
        return Pourables(profile, bar, taste_of(bar))
    kept = bar.by_profile.get(profile.name)
    if not isinstance(kept, Pourables) or kept.profile is not profile:
        kept = bar.by_profile[profile.name] = Pourables(profile, bar, taste_of(bar))
    return kept


def _rule(part: Part, pours: PartPours, gone: frozenset[Demand]) -> PartRule:
    """The rule of a part, without the demands that are dropped."""
    least, most = part.count
    dropped = {demand.kind for demand in gone if demand.subject == part.name}
    if DemandKind.COUNT in dropped:
        least, most = 0, max(most, min(most + 1, MOST_IN_A_PART))
    total = None if DemandKind.POURS in dropped else pours.total
    low, high = (total.traded.low, total.traded.high) if total else (None, None)
    return PartRule(part.name, least, most, low, high)


def _spans(demands: Iterable[Demand]) -> dict[str, list[PourSpan]]:
    """The ranges of pours asked for, by the key of the ingredient."""
    spans: dict[str, list[PourSpan]] = {}
    for demand in demands:
        if demand.span is not None:
            spans.setdefault(demand.subject, []).append(demand.span)
    return spans


def _choices(bar: Bar, kept: list[Demand], candidates: tuple[Candidate, ...]) -> list[Choice]:
    """At least one pour for each ingredient and character that is wished for; none of a character
    of which nothing may be there.

    What is asked of how loud a character is implies as much: so that no set of ingredients is
    looked into that can't keep it.
    """
    choices: list[Choice] = []
    for demand in kept:
        measure = demand.measure
        least = demand.kind is DemandKind.LEAST
        if measure is not None and measure.tags and least == (demand.bound > 0):
            members = frozenset(i for i, c in enumerate(candidates) if c.carried(measure))
            choices.append(Choice(demand.name, members, int(least), None if least else 0))
        if demand.kind in {DemandKind.WITH, DemandKind.CHARACTER}:
            having = _having(demand, bar)
            members = frozenset(i for i, c in enumerate(candidates) if c.ingredient in having)
            choices.append(Choice(demand.name, members, low=1))
    return choices


def _having(demand: Demand, bar: Bar) -> set[str]:
    """The keys of what fulfils a wish for an ingredient or a character."""
    if demand.kind is DemandKind.WITH:
        return {demand.subject}
    return {each.key for each in bar.bottles if tastes_of(each, demand.tags)}
