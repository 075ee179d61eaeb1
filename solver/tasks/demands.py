"""What is asked of a drink, one named demand at a time.

A profile, a request, a glass, a shelf and a jigger each demand something. Every demand can be
dropped while the others stay: that is what tells whether it matters, and what it costs.
"""

from __future__ import annotations

import enum
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from solver.measures import Form, Measure
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile
from solver.pantry.shelf import Stocked
from solver.quantities import PourSpan
from solver.search.problem import Candidate, Choice, Limit, PartRule, Problem
from solver.tasks.pourable import Pourable
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
    or the part that the others are about; `span` belongs to POUR.
    """

    kind: Kind
    origin: str
    says: str
    measure: Measure | None = None
    bound: float = 0.0
    subject: str = ""
    span: PourSpan | None = None

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
    _compositions: dict[str, tuple[float, ...]] = field(default_factory=dict, compare=False)
    """What one unit of an ingredient holds, by its key: worked out once."""

    @classmethod
    def of(cls, profile: Profile, bar: Bar, request: Request) -> Asked:
        """The demands of a request.

        Raises:
            BadInput, BadInputs: something asked for can't be read, or is not known.
        """
        _, limits = targets_of(profile, bar, request)
        measures = [demand for limit in limits for demand in _sides(limit, profile, bar)]
        wishes = _wishes(bar, request)
        structure = [*_parts(profile, bar), *_jigger(bar)]
        demands = tuple(dict.fromkeys([*measures, *wishes, *structure]))
        asked = cls(profile, bar, request, demands)
        stock = Demand(Kind.STOCK, "the shelf", _stock_says(request))
        # A bottle may be short that only comes in where a wish is dropped.
        free = frozenset(wishes)
        if asked._candidates(free, ()) != asked._candidates(free | {stock}, ()):
            return replace(asked, demands=(*demands, stock))
        return asked

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
        dropped = {(demand.kind, demand.subject) for demand in gone}
        unwanted = [w for w in self.request.unwanted if (Kind.WITHOUT, w) not in dropped]
        tags = {tag for tag in self.request.no_character if (Kind.NO_CHARACTER, tag) not in dropped}
        offered = [
            stocked
            for stocked in (*self.bar.stock, *shop)
            if not avoided(stocked.ingredient, unwanted, self.bar)
            and not tags.intersection(stocked.ingredient.character)
        ]
        pourable = self._pourable(gone)
        found: list[Candidate] = []
        for index, part in enumerate(self.profile.parts):
            each = self.profile.part_pours(part, self.bar.measures).each
            for stocked in offered:
                if not part.accepts(stocked.ingredient):
                    continue
                amounts = pourable.amounts(stocked, part, each)
                if amounts:
                    key, price = stocked.ingredient.key, stocked.price_per_unit
                    holds = self._composition(stocked.ingredient)
                    top = part.stage == "top"
                    found.append(Candidate(key, index, amounts, holds, price, top))
        return tuple(found)

    def _pourable(self, gone: frozenset[Demand]) -> Pourable:
        """The rules on single pours that stay in force."""
        kinds = {demand.kind for demand in gone}
        finer = finer_bar(self.bar) if Kind.JIGGER in kinds else None
        return Pourable(
            bars=(self.bar, finer) if finer else (self.bar,),
            loose=frozenset(demand.subject for demand in gone if demand.kind is Kind.POURS),
            wished=_spans(self.demands),
            held=_spans(demand for demand in self.demands if demand not in gone),
            serves=0 if Kind.STOCK in kinds else self.request.serves,
        )

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
            says = f"{span.said} of {name}"
            found.append(Demand(Kind.POUR, asked, says, subject=key, span=span))
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


def _spans(demands: Iterable[Demand]) -> dict[str, list[PourSpan]]:
    """What is wished to be poured of each ingredient, by its key."""
    spans: dict[str, list[PourSpan]] = {}
    for demand in demands:
        if demand.span is not None:
            spans.setdefault(demand.subject, []).append(demand.span)
    return spans


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
