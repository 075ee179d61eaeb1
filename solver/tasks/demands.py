"""What is asked of a drink, one named demand at a time.

A profile, a request, a glass, a shelf and a jigger each demand something. Every demand can be
dropped while the others stay: that is what tells whether it matters, and what it costs.
"""

from __future__ import annotations

import enum
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from solver.harmony.counted import load_counts
from solver.harmony.taste import BarTaste
from solver.measures import Form, Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile
from solver.pantry.shelf import Stocked
from solver.quantities import PourSpan
from solver.search.problem import Candidate, Choice, Limit, PartRule, Problem
from solver.tasks.bar_taste import taste_of
from solver.tasks.request import (
    Request,
    avoided,
    check_prices,
    curve_of,
    finer_bar,
    known_character,
    targets_of,
    wanted,
)  # fmt: skip
from solver.tasks.usual import oddness, usual_amount

MOST_IN_A_PART = 2
"""Where the count of a part is dropped, it may be empty, or hold one more, as far as this."""
PURCHASES = "purchases"
"""Name of the choice that bounds how much is bought."""


@enum.unique
class Kind(enum.Enum):
    """What a demand is about."""

    LEAST = "least"
    """A measure may not be lower."""
    MOST = "most"
    """A measure may not be higher."""
    WITH = "with"
    POUR = "pour"
    """How much of a wanted ingredient."""
    CHARACTER = "character"
    WITHOUT = "without"
    NO_CHARACTER = "no character"
    STOCK = "stock"
    """No more than is left on the shelf, for all serves together."""
    JIGGER = "jigger"
    """Only amounts that the pour set can measure."""
    COUNT = "count"
    """How many ingredients fill a part."""
    POURS = "pours"
    """How much of an ingredient fills a part."""


STRUCTURE = frozenset({Kind.JIGGER, Kind.COUNT, Kind.POURS})
"""What makes a profile and a bar what they are: dropped only to see whether it is to blame."""


@dataclass(frozen=True)
class Demand:
    """One thing that a drink must keep.

    `origin` says whose demand it is; `says` states it in the user's words, and together they are
    its name. `measure` and `bound` belong to LEAST and MOST; `subject` is the ingredient, the word
    or the part that the others are about.
    """

    kind: Kind
    origin: str
    says: str
    measure: Measure | None = None
    bound: float = 0.0
    subject: str = ""

    @property
    def name(self) -> str:
        """What tells it from all others of the same request."""
        return f"{self.says} ({self.origin})"

    @property
    def in_drinks(self) -> bool:
        """Whether it was asked in standard drinks."""
        about_alcohol = self.measure is not None and self.measure.name == "ethanol"
        return about_alcohol and self.origin.startswith("as asked: ")

    @property
    def limit(self) -> Limit | None:
        """The demand as a limit of the search, if it is about a measure."""
        if self.measure is None:
            return None
        low = self.bound if self.kind is Kind.LEAST else None
        high = self.bound if self.kind is Kind.MOST else None
        return Limit(self.name, self.measure, low, high)


@dataclass(frozen=True)
class Asked:
    """Everything that a request asks of a bar, as demands."""

    profile: Profile
    bar: Bar
    request: Request
    demands: tuple[Demand, ...]
    taste: BarTaste = field(default_factory=BarTaste)
    _compositions: dict[str, tuple[float, ...]] = field(default_factory=dict, compare=False)
    """What one unit of an ingredient holds, by its key: worked out once."""

    @classmethod
    def of(cls, profile: Profile, bar: Bar, request: Request) -> Asked:
        """The demands of a request.

        Raises:
            BadInput, BadInputs: something asked for can't be read, or is not known.
        """
        asked = cls(profile, bar, request, (), taste_of(bar))
        _, limits = targets_of(profile, bar, request)
        measures = [demand for limit in limits for demand in _sides(limit, profile, bar)]
        wishes = _wishes(bar, request)
        structure = [*_parts(profile, bar), *_jigger(bar)]
        demands = tuple(dict.fromkeys([*measures, *wishes, *structure]))
        stock = Demand(Kind.STOCK, "the shelf", _stock_says(request))
        if asked._candidates(frozenset(), ()) != asked._candidates(frozenset({stock}), ()):
            demands += (stock,)
        return replace(asked, demands=demands)

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
        parts = tuple(self._rule(part, gone) for part in self.profile.parts)
        shop = self._shop() if bought else ()
        candidates = self._candidates(gone, shop)
        kept = [replace(d, bound=moved.get(d, d.bound)) for d in self.demands if d not in gone]
        limits = tuple(limit for limit in (demand.limit for demand in kept) if limit)
        aims, _ = targets_of(self.profile, self.bar, self.request)
        problem = Problem(
            candidates,
            parts,
            curve_of(self.profile.technique, self.bar),
            limits,
            (*_choices(self.bar, kept, candidates), *_purchases(candidates, shop, bought)),
            aims,
            self.request.goal,
            self._equal(),
        )
        if not gone:  # what comes in only because a demand is dropped may be without a price
            check_prices(problem, optional={stocked.ingredient.key for stocked in shop})
        return problem

    def _shop(self) -> tuple[Stocked, ...]:
        """What the library has and the shelf has not."""
        stocked = {item.ingredient.key for item in self.bar.stock}
        return tuple(Stocked(each) for each in self.bar.library if each.key not in stocked)

    def _rule(self, part: Part, gone: frozenset[Demand]) -> PartRule:
        least, most = part.count
        if any(d.kind is Kind.COUNT and d.subject == part.name for d in gone):
            least, most = 0, max(most, min(most + 1, MOST_IN_A_PART))
        free = any(d.kind is Kind.POURS and d.subject == part.name for d in gone)
        total = None if free else self.profile.part_pours(part, self.bar.measures).total
        low, high = (total.low, total.high) if total else (None, None)
        return PartRule(part.name, least, most, low, high)

    def _candidates(
        self, gone: frozenset[Demand], shop: tuple[Stocked, ...]
    ) -> tuple[Candidate, ...]:
        kinds = {demand.kind for demand in gone}
        dropped = {(demand.kind, demand.subject) for demand in gone}
        bar = finer_bar(self.bar) or self.bar if Kind.JIGGER in kinds else self.bar
        unwanted = [w for w in self.request.unwanted if (Kind.WITHOUT, w) not in dropped]
        tags = {tag for tag in self.request.no_character if (Kind.NO_CHARACTER, tag) not in dropped}
        spans: dict[str, PourSpan] = {}
        for ingredient, span in (wanted(text, bar) for text in self.request.wanted):
            if span is not None and (Kind.POUR, ingredient.key) not in dropped:
                spans.setdefault(ingredient.key, span)
        offered = [
            stocked
            for stocked in (*bar.stock, *shop)
            if not avoided(stocked.ingredient, unwanted, bar)
            and not tags.intersection(stocked.ingredient.character)
        ]
        serves = 0 if Kind.STOCK in kinds else self.request.serves
        found: list[Candidate] = []
        for index, part in enumerate(self.profile.parts):
            each = self.profile.part_pours(part, bar.measures).each
            if (Kind.POURS, part.name) in dropped:
                each = replace(each, low=each.low / 2, high=each.high * 1.5)
            for stocked in offered:
                span = spans.get(stocked.ingredient.key, each)
                if not part.accepts(stocked.ingredient):
                    continue
                amounts = _amounts(stocked, part, span, bar, serves)
                if amounts:
                    found.append(
                        Candidate(
                            ingredient=stocked.ingredient.key,
                            part=index,
                            amounts=amounts,
                            composition=self._composition(stocked.ingredient),
                            cost=stocked.price_per_unit,
                            top=part.stage == "top",
                            oddness=self._oddness(stocked.ingredient, part, amounts),
                        )
                    )
        return tuple(found)

    def _oddness(
        self, item: Ingredient, part: Part, amounts: tuple[float, ...]
    ) -> tuple[float, ...]:
        pours = self.profile.part_pours(part, self.bar.measures)
        in_part = pours.usual if pours.each.unit == item.per else None
        usual = usual_amount(item, in_part, load_counts(), self.taste)
        return oddness(item, part.tool or item.tool, amounts, usual, load_counts(), self.bar)

    def _equal(self) -> frozenset[int]:
        """The parts of which every pour is as large as every other, unless a pour was asked for."""
        names = [part.name for part in self.profile.parts]
        asked = any(span for _, span in (wanted(text, self.bar) for text in self.request.wanted))
        return frozenset() if asked else frozenset(map(names.index, self.profile.equal))

    def _composition(self, ingredient: Ingredient) -> tuple[float, ...]:
        if ingredient.key not in self._compositions:
            holds = tuple(float(x) for x in ingredient.composition())
            self._compositions[ingredient.key] = holds
        return self._compositions[ingredient.key]


def problem_of(profile: Profile, bar: Bar, request: Request) -> Problem:
    """The problem that a request poses.

    Raises:
        BadInput, BadInputs: something asked for can't be read, is not known, or has no price where
            the cost matters.
    """
    return Asked.of(profile, bar, request).problem()


def _sides(limit: Limit, profile: Profile, bar: Bar) -> list[Demand]:
    """The two ends of a limit, as far as they ask for anything."""
    measure = limit.measure
    origin = {"profile": f"profile {profile.name}", "request": "as asked"}.get(
        limit.name, limit.name
    )
    found: list[Demand] = []
    for kind, bound in ((Kind.LEAST, limit.low), (Kind.MOST, limit.high)):
        if bound is not None and (kind is Kind.MOST or bound > 0):
            said = f"{bound:.2f}" if measure.form is Form.COST else f"{bound:.6g}"
            amount = f"{said} {measure.unit_in(bar.currency)}".rstrip()
            found.append(
                Demand(kind, origin, f"{measure.label} at {kind.value} {amount}", measure, bound)
            )
    return found


def _wishes(bar: Bar, request: Request) -> list[Demand]:
    asked = "as asked"
    found: list[Demand] = []
    for text in request.wanted:
        ingredient, span = wanted(text, bar)
        name, key = ingredient.name, ingredient.key
        found.append(Demand(Kind.WITH, asked, f"with {name}", subject=key))
        if span is not None:
            found.append(Demand(Kind.POUR, asked, f"{span.said} of {name}", subject=key))
    for tag in request.character:
        known_character(tag)
        found.append(Demand(Kind.CHARACTER, asked, f"something with {tag}", subject=tag))
    found += [
        Demand(Kind.WITHOUT, asked, f"without {word}", subject=word) for word in request.unwanted
    ]
    for tag in request.no_character:
        known_character(tag)
        found.append(Demand(Kind.NO_CHARACTER, asked, f"nothing with {tag}", subject=tag))
    return found


def _stock_says(request: Request) -> str:
    serves = "one serve" if request.serves == 1 else f"{request.serves} serves"
    return f"no more than is left for {serves}"


def _parts(profile: Profile, bar: Bar) -> list[Demand]:
    origin = f"profile {profile.name}"
    found: list[Demand] = []
    for part in profile.parts:
        found.append(Demand(Kind.COUNT, origin, _counted(part), subject=part.name))
        if part.count[1]:
            each = profile.part_pours(part, bar.measures).each
            said = f"{each.said} of each {part.name}"
            found.append(Demand(Kind.POURS, origin, said, subject=part.name))
    return found


def _counted(part: Part) -> str:
    least, most = part.count
    if least == most:
        return f"{'one' if least == 1 else least} {part.name}"
    if least == 0:
        return f"at most {'one' if most == 1 else most} {part.name}"
    return f"{least} to {most} of the {part.name}"


def _jigger(bar: Bar) -> list[Demand]:
    """The pour set, where there is a finer one."""
    return [Demand(Kind.JIGGER, "the bar", bar.pour_set.says)] if finer_bar(bar) else []


def _amounts(
    stocked: Stocked, part: Part, each: PourSpan, bar: Bar, serves: int
) -> tuple[float, ...]:
    """What can be poured of a bottle in a part; `serves` 0 asks nothing of the stock."""
    amounts = bar.pour_set.amounts_of(stocked.ingredient, each, bar.measures, part.tool)
    if stocked.on_hand is None:
        return amounts
    return tuple(a for a in amounts if a * serves <= stocked.on_hand)


def _choices(bar: Bar, kept: list[Demand], candidates: tuple[Candidate, ...]) -> list[Choice]:
    """At least one pour for each ingredient and character that is wished for."""
    choices: list[Choice] = []
    for demand in kept:
        if demand.kind is Kind.WITH:
            having = {demand.subject}
        elif demand.kind is Kind.CHARACTER:
            having = {i.key for i in bar.bottles if demand.subject in i.character}
        else:
            continue
        members = frozenset(i for i, c in enumerate(candidates) if c.ingredient in having)
        choices.append(Choice(demand.name, members, low=1))
    return choices


def _purchases(
    candidates: tuple[Candidate, ...], shop: tuple[Stocked, ...], most: int
) -> list[Choice]:
    keys = {stocked.ingredient.key for stocked in shop}
    members = frozenset(i for i, c in enumerate(candidates) if c.ingredient in keys)
    return [Choice(PURCHASES, members, high=most)] if shop else []
