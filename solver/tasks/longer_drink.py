"""A drink asked for longer: with a top, as the long drink that its profile names.

More of everything makes a larger drink, not a longer one. What is poured stays, in its amounts as
far as the long drink takes them, and what that has for a top comes upon it. A drink that has a top
already is itself the long one, and gets more of that alone.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.drinks.tops import TOPS, tops_of
from solver.measures import MEASURES
from solver.pantry.avoidance import all_against
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.quantities import Span, parse_pour_span
from solver.requests.origin import From, Origin
from solver.requests.request import IngredientWish, MeasureWish, Request
from solver.search.problem import Goal
from solver.search.tolerances import SAME_POUR
from solver.tasks.comparative_wishes import with_targets
from solver.tasks.design_result import Design, Explain, Lengthens, Status
from solver.tasks.save import written_amount

WORD = "longer"
"""The wish that compares, as `solver.measures` has it."""
Designed = Callable[[Profile, Request, Explain], Design]
"""The best drink of a profile for a request, and how much is told of why."""


def asks_longer(request: Request) -> bool:
    """Whether a longer drink is asked for."""
    return any(step.word == WORD for step in request.steps)


def only_larger(found: Design, request: Request) -> bool:
    """Whether a longer drink is asked for of a kind that has no long one, nor a top."""
    if not asks_longer(request) or found.profile.longer is not None:
        return False
    if found.answer is not None:
        return not tops_of(found.answer.pours)
    return all(part.name not in TOPS for part in found.profile.parts)


def long_profile(profile: Profile | None, bar: Bar, request: Request) -> Profile | None:
    """The long drink of a profile, where a request is for a longer one.

    Raises:
        BadInput, BadInputs: its file is wrong, or there is none.
    """
    if profile is None or profile.longer is None or not asks_longer(request):
        return None
    return bar.profile(profile.longer)


def longer_design(
    profile: Profile, bar: Bar, request: Request, designed: Designed, explain: Explain
) -> Design | None:
    """The long drink of what a profile would serve: that of its profile, or itself with more of its
    top. None where it has neither, or serves nothing.

    Raises:
        BadInput, BadInputs: as `design`.
    """
    if not asks_longer(request):
        return None
    served = _served(profile, request, designed)
    if served.status is Status.STOPPED and served.answer is None:
        return served
    if served.answer is None:
        return None
    pours = served.answer.pours
    values = {name: value for name, value in served.answer.values.items() if value is not None}
    request = with_targets(request, values)
    long = long_profile(profile, bar, request) or (profile if tops_of(pours) else None)
    if long is None:
        return None
    made = _Long(profile.name, pours, long, bar, _bounded(request), designed)
    if request.goal is not Goal.IN_KEEPING:  # of all long drinks, whatever the short one has
        return made.first_of(made.any_way(), explain)
    if long is not profile:
        ways = made.ways()
        return made.first_of([*ways, *made.any_way(), ways[-1]], explain)
    return made.first_of(made.with_more(), explain, settled=True)


def _served(profile: Profile, request: Request, designed: Designed) -> Design:
    """What a profile would serve, from which it is told how long is longer: with the rest of what
    is asked, or without what only the long drink may have."""
    plain = replace(request, steps=(), alternatives=0)
    usual = replace(
        plain, measures=(), words=(), wanted=(), character=(), feature=(), as_in_keeping_as=None
    )
    found = designed(profile, plain, Explain.NOTHING)
    if found.status is Status.IMPOSSIBLE and usual != plain:
        found = designed(profile, usual, Explain.NOTHING)
    return found


def topped(
    name: str, pours: Sequence[Pour], long: Profile, bar: Bar, request: Request,
    designed: Designed, explain: Explain,
) -> Design:  # fmt: skip
    """The pours of a drink in its long one, or why there is none; `request` has the targets of its
    steps.

    Raises:
        BadInput, BadInputs: as `design`.
    """
    made = _Long(name, pours, long, bar, _bounded(request), designed)
    return made.first_of(made.ways(), explain)


@dataclass(frozen=True)
class Way:
    """A way to make a drink longer: its long `profile`, and what of it is asked to be in that."""

    profile: Profile
    wishes: tuple[IngredientWish, ...] = ()


@dataclass(frozen=True)
class _Long:
    """A drink of some `pours` that is to become a drink of the profile `long`."""

    name: str
    pours: Sequence[Pour]
    long: Profile
    bar: Bar
    request: Request
    designed: Designed

    def first_of(self, ways: Sequence[Way], explain: Explain, *, settled: bool = False) -> Design:
        """The first that is on target, or (`settled`) that can be poured at all; else the first
        that can be poured. If none can, why not."""
        found: Design | None = None
        told = explain if explain is Explain.EVERYTHING else Explain.NOTHING
        for each in ways:
            one = self._made(each, told)
            if one.answer is None:
                if one.status is Status.STOPPED:
                    return found or one
                continue
            if settled or one.targets is None or not one.targets.off:
                return one
            found = found or one
        return found or self._why_none(ways, explain)

    def _why_none(self, ways: Sequence[Way], explain: Explain) -> Design:
        """Why there is none: of the drink itself, if that tells what would help, else on its base.

        Only where there is no top at all are its amounts not in the way.
        """
        there = (row.ingredient for row in self.bar.stock if row.on_hand != 0)
        topless = not any(self._is_top(item) and not self._against(item) for item in there)
        for each in [way for way in ways[:-1] if topless or not way.wishes][:1]:
            found = self._made(each, explain)
            if found.why is None or found.why.ways_out:
                return found
        return self._made(ways[-1], explain)

    def _against(self, item: Ingredient) -> bool:
        """Whether somebody avoids it, or may have to."""
        return bool(all_against(self.bar.told_of(item), self.request.avoided))

    def _is_top(self, item: Ingredient) -> bool:
        return any(part.accepts(item) for part in self.long.parts if part.name in TOPS)

    def _made(self, way: Way, explain: Explain) -> Design:
        """The long drink with some of the short one, and what of that is in it."""
        named = {wish.key for wish in self.request.wanted}
        more = tuple(wish for wish in way.wishes if wish.key not in named)
        asked = replace(self.request, wanted=(*self.request.wanted, *more))
        found = self.designed(way.profile, asked, explain)
        there = {item.key for item in found.answer.ingredients} if found.answer else set[str]()
        own = self.long.name == self.name
        short = [p.ingredient for p in self.pours if not (own and p in tops_of(self.pours))]
        kept, left = (
            tuple(item for item in short if found.answer and (item.key in there) is stays)
            for stays in (True, False)
        )
        return replace(found, lengthens=Lengthens(self.name, kept, left))

    def ways(self) -> list[Way]:
        """The ways to the long drink, with most of the short one first: nothing that cannot be in
        it, and nothing new but what balances it; then on its base, whatever else it has."""
        takes = [
            pour
            for pour in self.pours
            if any(part.count[1] and part.accepts(pour.ingredient) for part in self.long.parts)
            and self.bar.stocked(pour.ingredient.key) is not None
            and not self._against(pour.ingredient)
        ]
        exact = tuple(self._exactly(pour) for pour in takes)
        own = _each_topped(self._nothing_new())
        all_of_it = [Way(self._only(profile, takes)) for profile in own]
        base = [pour for pour in takes if pour.part == "base"]
        on_its_base = [*own, *reversed(_each_topped(self.long))]
        return [
            *(Way(profile, exact) for profile in own),
            *all_of_it,
            *(Way(_based(profile, base)) for profile in on_its_base),
        ]

    def _only(self, profile: Profile, takes: Sequence[Pour]) -> Profile:
        """The profile for all of some pours, in any amounts: in the parts that take them, only
        those and what is wished for."""
        wished = [self.bar.bottles.find(wish.key) for wish in self.request.wanted]
        counts: dict[str, tuple[int, int]] = {}
        for part in profile.parts:
            fits = sum(part.accepts(pour.ingredient) for pour in takes)
            if fits and part.name not in TOPS:
                most = min(part.count[1], fits + sum(map(part.accepts, wished)))
                counts[part.name] = (max(part.count[0], min(fits, most)), most)
        known = [*(pour.ingredient for pour in takes), *wished]
        return _counted(_filled(profile, counts, known), counts)

    def any_way(self) -> list[Way]:
        """The ways to the long drink, whatever the short one has; the usual top comes last, so that
        it is told why there is none with that."""
        return [Way(profile) for profile in reversed(_each_topped(self.long))]

    def _nothing_new(self) -> Profile:
        """The long drink with no more in any part than what of the short one and of the wishes
        fits in; but for its top, and what is poured first to balance such a drink."""
        known = [pour.ingredient for pour in self.pours]
        known += [self.bar.bottles.find(wish.key) for wish in self.request.wanted]
        free = {*TOPS, *(self.long.moves.first if self.long.moves else ())}
        counts = {
            part.name: (part.count[0], max(part.count[0], min(part.count[1], fits)))
            for part in self.long.parts
            if part.name not in free
            for fits in (sum(map(part.accepts, known)),)
        }
        return _counted(self.long, counts)

    def with_more(self) -> list[Way]:
        """The ways to more of its own top and nothing new: on its pours in their amounts, then on
        any amounts of them."""
        filled = [pour.part for pour in self.pours]
        counts = ((part.name, filled.count(part.name)) for part in self.long.parts)
        own = _counted(self.long, {name: (count, count) for name, count in counts})
        tops = tops_of(self.pours)
        beneath = [pour for pour in self.pours if pour not in tops]
        more = tuple(self._more(pour) for pour in tops)
        exact = tuple(self._exactly(pour) for pour in beneath)
        alike = tuple(IngredientWish(pour.ingredient.key) for pour in beneath)
        return [Way(own, each + more) for each in (exact, alike)]

    def _exactly(self, pour: Pour) -> IngredientWish:
        said = written_amount(pour.ingredient, pour.amount, pour.tool, self.bar)
        return IngredientWish(pour.ingredient.key, parse_pour_span(said, self.bar.measures))

    def _more(self, pour: Pour) -> IngredientWish:
        """More of what it is topped with, up to what its part takes."""
        most = self.long.part_pours(self.long.part(pour.part), self.bar.measures).each
        least = pour.amount * (1.0 + SAME_POUR)
        span = replace(most, low=least, high=max(least, most.high), said="more")
        return IngredientWish(pour.ingredient.key, span)


def _each_topped(long: Profile) -> list[Profile]:
    """The long drink as it is, or with each of its tops where it can be without any."""
    tops = sorted((p for p in long.parts if p.name in TOPS), key=lambda p: TOPS.index(p.name))
    if not tops or any(part.count[0] for part in tops):
        return [long]
    return [_counted(long, {top.name: (1, max(1, top.count[1]))}) for top in tops]


def _based(profile: Profile, base: Sequence[Pour]) -> Profile:
    """The profile on the base of a drink."""
    items = [pour.ingredient for pour in base]
    named = [p.name for p in profile.parts if p.count[0] and any(map(p.accepts, items))]
    return _filled(profile, named, items)


def _filled(profile: Profile, named: Collection[str], known: Sequence[Ingredient]) -> Profile:
    """The profile with nothing but some ingredients in the named parts."""
    parts = tuple(
        part.model_copy(
            update={
                "kinds": (),
                "ingredients": tuple(i.key for i in known if part.accepts(i)),
            }
        )
        if part.name in named
        else part
        for part in profile.parts
    )
    return profile.model_copy(update={"parts": parts})


def _counted(profile: Profile, counts: Mapping[str, tuple[int, int]]) -> Profile:
    """The profile with other numbers of ingredients in some of its parts, and without those that
    are to have none."""
    counted = (
        part.model_copy(update={"count": counts.get(part.name, part.count)})
        for part in profile.parts
    )
    parts = tuple(part for part in counted if part.count[1])
    names = {part.name for part in parts}
    alone = tuple(
        part if part.instead_of in names else part.model_copy(update={"instead_of": None})
        for part in parts
    )
    return profile.model_copy(update={"parts": alone})


def _bounded(request: Request) -> Request:
    """The request with bounds for its steps: a long drink has its own aims beyond them."""
    bounds = tuple(
        MeasureWish(
            MEASURES[step.measure],
            Span(high=step.target) if step.sign < 0 else Span(low=step.target),
            Origin(From.COMPARISON, step.says),
        )
        for step in request.steps
    )
    return replace(request, measures=(*request.measures, *bounds), steps=())
