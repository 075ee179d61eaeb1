"""A guest's order of a spec: weaker, without nuts, and otherwise unchanged."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial

from solver.clock import Clock
from solver.drinks.answer import Answer
from solver.drinks.approval import approved_profile
from solver.drinks.assess import Assessment, assess
from solver.drinks.tops import tops_of
from solver.measures import MEASURES, Form, Measure
from solver.pantry.bar import Bar
from solver.pantry.pour import Pour
from solver.pantry.profile import Profile
from solver.pantry.spec import Spec
from solver.pantry.stocked import Stocked, in_order
from solver.quantities import Span
from solver.requests.allowed_pours import Pourables
from solver.requests.asked_drink import AskedDrink
from solver.requests.bar_taste import taste_of
from solver.requests.demands import DemandKind
from solver.requests.request import MeasureWish, Request
from solver.search.milp.backend import Backend
from solver.search.problem import Goal
from solver.search.tolerances import SAME_POUR
from solver.tasks.comparative_wishes import with_targets
from solver.tasks.design import design
from solver.tasks.design_result import FAR, Design, Explain, Status
from solver.tasks.longer_drink import asks_longer, long_profile, topped
from solver.tasks.respec.as_profile import WATER, AsProfile, FillableLine, as_profile
from solver.tasks.respec.line_changes import line_changes
from solver.tasks.respec.objections import Objection, in_notes, not_counted, objections
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.slots import FilledSlot, Slot, poured_in, refilled
from solver.tasks.save import spec_of_answer
from solver.tasks.ways_out import WayOut
from solver.tasks.why import Why

AMOUNTS = frozenset({Form.TOTAL, Form.VOLUME, Form.COST})
"""Forms of measures of which a smaller drink has less."""


@dataclass(frozen=True)
class GuestOrder:
    """The result of an order: `found` is the search, `poured` the drink beside the spec, or None.

    `objections` are what the notes of the spec mention and the guest avoids, and what its steps add
    uncounted of what is limited: no other pours would help. Of a drink that is made longer, `found`
    is the long one, and nothing stands beside it.
    """

    spec: Spec
    found: Design
    poured: Rebalanced | None
    objections: tuple[Objection, ...] = ()


def order(
    spec: Spec,
    bar: Bar,
    request: Request,
    backend: Backend,
    *,
    explain: Explain = Explain.NOTHING,
    verify: bool = False,
    clock: Clock | None = None,
) -> GuestOrder:
    """The drink nearest to a spec that is as ordered.

    What is asked of a measure replaces the range that the spec is held to; comparisons are with the
    spec's present values. Fewest changed pours first, then the least change.

    Raises:
        BadInput, BadInputs: the spec is wrong, or something asked for can't be read or is not
            known.
    """
    ready = pending_order(spec, bar, request)
    return ready.answered(backend, clock=clock, explain=explain, verify=verify)


@dataclass(frozen=True)
class PendingOrder:
    """An order that has been read, but not searched for: the spec as a profile, and the request."""

    spec: Spec
    bar: Bar
    request: Request
    whole: AsProfile
    asked: AskedDrink

    def answered(
        self,
        backend: Backend,
        *,
        clock: Clock | None = None,
        explain: Explain = Explain.NOTHING,
        verify: bool = False,
    ) -> GuestOrder:
        """The result, within the `clock`, by default that of the request."""
        bar, request, whole = self.bar, self.request, self.whole
        clock = clock or Clock.of(request.seconds)
        against = objections(in_notes(self.spec, bar), request.avoided)
        against += tuple(not_counted(self.spec, bar, _limited(request)))
        long = None if against else self._longer(backend, clock, explain, verify=verify)
        if long is not None:
            return GuestOrder(self.spec, replace(long, steps=request.steps), None)
        found = design(
            whole.profile, bar, request, backend,
            clock=clock, verify=verify, explain=explain, plain=self.asked,
        )  # fmt: skip
        larger = asks_longer(request) and not tops_of(whole.made.lines)
        found = replace(found, only_larger=larger, steps=request.steps)
        why = found.why
        if why is not None and found.status is Status.IMPOSSIBLE and not found.interrupted:
            rest = clock.unwatched
            why = _new_drinks_first(why, whole.made)
            found = replace(found, why=_or_smaller(why, whole.made, bar, request, backend, rest))
        answer = None if against else found.answer
        poured = None if answer is None else _poured(found, answer, whole, bar)
        return GuestOrder(self.spec, found, poured, against)

    def _longer(
        self, backend: Backend, clock: Clock, explain: Explain, *, verify: bool
    ) -> Design | None:
        """The spec with a top, where that is asked for and its profile has a long drink."""
        made, bar = self.whole.made, self.bar
        long = long_profile(made.profile, bar, self.request)
        if long is None:
            return None
        if self.spec.garnish:
            long = long.model_copy(update={"garnish": self.spec.garnish, "garnishes": {}})
        request = replace(self.request, goal=Goal.IN_KEEPING)

        def designed(profile: Profile, wish: Request, told: Explain) -> Design:
            return design(profile, bar, wish, backend, clock=clock, verify=verify, explain=told)

        found = topped(self.spec.name, made.lines, long, bar, request, designed, explain)
        short = found.lengthens
        if short is None:
            return found
        return replace(found, lengthens=replace(short, steps=self.spec.steps))


def pending_order(spec: Spec, bar: Bar, request: Request) -> PendingOrder:
    """Read an order of a spec, ready for the search.

    Raises:
        BadInput, BadInputs: as `order`.
    """
    bar = _with_water(bar)
    made = assess(spec, bar)
    served = {name: value for name, value in made.values.items() if value is not None}
    request = _held_to_aims(with_targets(replace(request, goal=Goal.NEAREST), served))
    whole = as_profile(made, bar, request)
    pourables = Pourables(whole.profile, bar, taste_of(bar), whole.poured_before)
    asked = AskedDrink.of(whole.profile, bar, request, pourables)
    return PendingOrder(spec, bar, request, whole, asked)


def _limited(request: Request) -> tuple[Measure, ...]:
    """The measures of which there is to be no more than so much."""
    below = [wish.measure for wish in request.ranged if wish.span.high is not None]
    return (*below, *(MEASURES[step.measure] for step in request.steps if step.sign < 0))


def pours_the_same(answer: Answer, made: Assessment) -> bool:
    """Whether a drink pours what one that is made does, but for rounding."""
    before = sorted((line.ingredient.key, line.amount) for line in made.lines)
    now = sorted((pour.ingredient.key, pour.amount) for pour in answer.pours)
    return len(now) == len(before) and all(
        key == was and math.isclose(amount, had, rel_tol=SAME_POUR)
        for (key, amount), (was, had) in zip(now, before, strict=True)
    )


def _new_drinks_first(why: Why, made: Assessment) -> Why:
    """The ways out with the drink that is poured today at the end, and the smallest change of what
    the spec is held to first: whoever asks for another drink knows this one. That a guest who
    avoids nothing could have it is no way out."""
    new: list[WayOut] = []
    unchanged: list[WayOut] = []
    for way in why.ways_out:
        if pours_the_same(way.answer, made):
            if any(change.demand.kind is not DemandKind.WITHOUT for change in way.changes):
                unchanged.append(replace(way, unchanged=True))
        else:
            new.append(way)
    return replace(why, ways_out=(*sorted(new, key=lambda way: way.weight), *unchanged))


def _or_smaller(
    why: Why, made: Assessment, bar: Bar, request: Request, backend: Backend, clock: Clock
) -> Why:
    """Why there is no such drink, and first of the ways out the same drink in a smaller size: where
    it is to have less of something than it has."""
    size = min(map(partial(_share, made=made), request.ranged), default=1.0)
    if not 0.0 < size < 1.0:
        return why
    request = replace(request, goal=Goal.CLOSEST)
    small = as_profile(made, bar, request, size=size)
    pourables = Pourables(small.profile, bar, taste_of(bar), small.poured_before)
    asked = AskedDrink.of(small.profile, bar, request, pourables)
    found = design(small.profile, bar, request, backend, clock=clock, plain=asked)
    if found.answer is None or found.targets is None or found.targets.off > FAR:
        return why
    return replace(why, ways_out=(WayOut((), found.answer, smaller=True), *why.ways_out))


def _share(wish: MeasureWish, made: Assessment) -> float:
    """The largest factor on the size of the drink, for what is asked of an amount in it."""
    most = wish.span.high if wish.span.aim is None else wish.span.aim
    now = made.values.get(wish.measure.name)
    if wish.measure.form not in AMOUNTS or most is None or not now:
        return 1.0
    return most / now


def asked_of(spec: Spec, bar: Bar, request: Request) -> AskedDrink:
    """A request about all drinks that the lines of a spec can be poured to; its present values are
    aims.

    Its ingredients stay, except for what is not to be had or is avoided.

    Raises:
        BadInput, BadInputs: as `order`.
    """
    bar = _with_water(bar)
    made = assess(spec, bar)
    served = {name: value for name, value in made.values.items() if value is not None}
    request = with_targets(replace(request, goal=Goal.NEAREST), served)
    whole = as_profile(made, bar, request)
    profile = whole.profile.model_copy(update={"limits": ()})
    pourables = Pourables(profile, bar, taste_of(bar), whole.poured_before)
    return AskedDrink.of(profile, bar, request, pourables)


def _held_to_aims(request: Request) -> Request:
    """The request with each value widened to the range that the spec is held to in other
    measures."""
    ranges = [
        MeasureWish(wish.measure, Span(low=max(0.0, aim - one), high=aim + one), wish.origin)
        for wish in request.measures
        if (aim := wish.span.aim) is not None
        for one in (wish.measure.tolerance(aim),)
    ]
    return replace(request, measures=(*request.measures, *ranges))


def _with_water(bar: Bar) -> Bar:
    """The bar with free water from the tap, if its shelf does not list any."""
    if bar.stocked(WATER) is not None:
        return bar
    tap = Stocked(bar.bottles.find(WATER), bottle=1000.0, price=0.0)
    return replace(bar, stock=in_order((*bar.stock, tap)))


def _poured(found: Design, answer: Answer, whole: AsProfile, bar: Bar) -> Rebalanced:
    """The answer aligned with the spec."""
    fillable_lines = {fillable.line.ingredient.name: fillable for fillable in whole.fillable_lines}
    first = whole.fillable_lines[0]  # a splash of water stands below it
    filled = [
        FilledSlot(slot, _pour(slot, pour, fillable_lines, whole.made))
        for pour in answer.pours
        for fillable in (fillable_lines.get(pour.part, first),)
        for slot in (Slot(fillable.at, fillable.line, fillable.fillers),)
    ]
    filled.sort(key=lambda each: (each.slot.at, each.pour.ingredient.key == WATER))
    spec = refilled(whole.made, filled, bar)
    served = {"garnish": answer.garnish, "glass": found.glass or spec.glass}
    pours = [each.pour for each in filled]
    after = assess(spec.model_copy(update=served), bar, pours=pours)
    lines = line_changes(whole.made, after, filled)
    return Rebalanced(whole.made, after, whole.kept, lines, held=True, compared=found.compared)


def _pour(
    slot: Slot, pour: Pour, fillable_lines: Mapping[str, FillableLine], made: Assessment
) -> Pour:
    """A pour of the answer in the spec's notation; added water is measured by the spoon, in no
    part."""
    own = any(fillable.line.ingredient.key == WATER for fillable in fillable_lines.values())
    if own or pour.ingredient.key != WATER:
        return poured_in(slot, pour.ingredient, pour.amount, made)
    return Pour(pour.ingredient, pour.amount, "spoon", stage="first")


def spec_of_order(ordered: GuestOrder, name: str, bar: Bar) -> Spec | None:
    """The drink as a spec of its own, approved today; None if there is none."""
    long = ordered.found
    if long.lengthens is not None and long.answer is not None:
        return spec_of_answer(long, long.answer, name, bar, bar.today)
    if ordered.poured is None or ordered.poured.after is None:
        return None
    after = ordered.poured.after
    approved = approved_profile(after.values, bar.today, bar.currency)
    named = {"name": " ".join(name.split()), "approved": approved, "steps": ()}
    return after.spec.model_copy(update=named)
