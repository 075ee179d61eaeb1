"""Formulate a plan in whole numbers: from forecast and stock to the question that a solver
answers."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from solver.drinks.mixed_ahead import MixedAhead
from solver.drinks.serve import one_serve
from solver.errors import BadInput
from solver.night.problem import Night, NightDrink, Nights, UseUp
from solver.night.source_bounds import most_needed, with_source_bounds
from solver.pantry.bar import Bar
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.plan_file import Coming, PlanShare, settled_shares
from solver.pantry.same_egg import whole_eggs
from solver.pantry.spec import Spec, find_spec, read_specs
from solver.pantry.stocked import Stocked
from solver.requests.leaves import HERB
from solver.tasks.plan.capacities import capacities_of
from solver.tasks.plan.items import Item, item_named, items_for
from solver.tasks.plan.sources import (
    lots_of,
    of_a_serve,
    of_the_same_eggs,
    source_of,
    sources_begun_today,
)
from solver.tasks.plan.standing_batches import of_no_spec, serve_ml, set_aside, standing_batch
from solver.tasks.plan.supply import Supply, SupplyWay, is_from_tap
from solver.tasks.plan.ticks import MONEY, TICKS, WORTH, most_spent, ticks_up

MOST_DAYS: Final = 62
"""Days from today to the last night beyond which nobody plans drinks."""


@dataclass(frozen=True)
class ChosenDrink:
    """A drink of the plan: its spec, its share of the drinks, and what a serve takes.

    `takes` is in mL or g by key, without water, which is from the tap, and without garnish that the
    shelf does not list; of a drink that stands mixed it is its batch and what is added to it. Fruit
    to cut is bought like fruit to press, and herbs by the bag, unless there is a most to spend:
    nobody is refused a drink for want of a wheel of lemon. `left_out` is the rest of its garnish.
    """

    spec: Spec
    share: PlanShare
    takes: Mapping[str, float]
    left_out: tuple[str, ...] = ()


@dataclass(frozen=True)
class Question:
    """The question in numbers, and the meaning of each number.

    `items` and `drinks` are in the order of `nights.values` and `nights.drinks`; source k supplies
    item `nights.sources[k].item`: the first ones item k, the rest what is begun today all the same,
    and the yolks of eggs that are separated for their whites.
    """

    coming: Coming
    now: datetime
    items: tuple[Item, ...]
    drinks: tuple[ChosenDrink, ...]
    nights: Nights
    unpriced: tuple[Item, ...] = ()
    """What may have to be bought and has no price: it is counted by `ASSUMED_PRICE`."""
    set_aside: tuple[MixedAhead, ...] = ()
    """Batches of its drinks that are not poured, since they are another drink by now."""
    of_no_spec: tuple[Stocked, ...] = ()
    """Batches that are not poured, since no spec of the bar is called as they are."""

    @property
    def first(self) -> date:
        """The date of the first day."""
        return self.now.date()

    def day(self, number: int) -> date:
        """The date of a day by its number."""
        return self.first + timedelta(days=number)

    def paid(self, source: int, units: int) -> float | None:
        """The cost of units of a source as counted; None without a price."""
        if self.supply(source)[1].price is None:
            return None
        return units * self.nights.sources[source].cost / MONEY

    def supply(self, source: int) -> tuple[Item, Supply]:
        """The item that a source supplies, and how."""
        item = self.items[self.nights.sources[source].item]
        return item, item.supply


def question_of(coming: Coming, bar: Bar, drinks: Sequence[ChosenDrink] = ()) -> Question:
    """The question of a bar, about the coming drinks or others.

    Raises:
        BadInput, BadInputs: a name is not known, a night is over, shares or a file are wrong, or
            there is a limit on spending and no price of what may have to be bought.
    """
    days = _days(coming, bar)
    drinks = tuple(drinks) or _drinks(coming, bar)
    keys = dict.fromkeys(key for drink in drinks for key in drink.takes)
    batches = _placed_batches(coming, bar)
    items = tuple(items_for(keys, batches, _mixed(drinks, bar), bar, days).values())
    at = {item.key: number for number, item in enumerate(items)}
    for key in batches:
        if key not in at:
            what = f"no drink of this plan pours {key}"
            raise BadInput(what, where=coming.where(["batches", key]), remedy="Leave it out.")
    sources = [source_of(number, item, at, days, coming, bar) for number, item in enumerate(items)]
    nights = [Night((day - bar.today).days, drinks) for day, drinks in sorted(coming.nights)]
    numbers = Nights(
        days=days,
        values=[max(1, round(item.worth / TICKS * WORTH)) for item in items],
        lots=[lot for number, item in enumerate(items) for lot in lots_of(number, item, bar.today)],
        sources=[
            *sources,
            *sources_begun_today(items, sources, days, coming, bar),
            *of_the_same_eggs(items, sources),
        ],
        drinks=[
            NightDrink(
                {at[key]: of_a_serve(items[at[key]], each) for key, each in drink.takes.items()},
                drink.share.low,
                drink.share.high,
                drink.share.wish,
            )
            for drink in drinks
        ],
        nights=nights,
        use_up=[
            _use_up(name, day, items, at, drinks, coming, bar)
            for name, day in coming.use_up.items()
        ],
        spend=None if coming.spend is None else most_spent(coming.spend),
        worth_unit=WORTH // 100,
        worth_costs=MONEY // 100,
        cost_within=MONEY // 100,
        capacities=capacities_of([drink.spec for drink in drinks], bar),
    )
    unpriced = _unpriced(items, numbers)
    if unpriced and coming.spend:
        names = ", ".join(item.ingredient.name for item in unpriced)
        what = f"there is a most to spend, and no price of {names}"
        remedy = "State it in shelf.csv, or set no most."
        raise BadInput(what, why="it may have to be bought", remedy=remedy)
    aside = tuple(each for drink in drinks if (each := set_aside(drink.spec, bar)) is not None)
    numbers = with_source_bounds(numbers)
    return Question(coming, bar.now, items, drinks, numbers, unpriced, aside, of_no_spec(bar))


def _unpriced(items: Sequence[Item], question: Nights) -> tuple[Item, ...]:
    """Items that are bought, have no price, and may run out."""
    most, units = most_needed(question)
    there = [0] * len(items)
    for lot in question.lots:
        if not lot.first and (lot.last is None or lot.last >= question.days - 1):
            there[lot.item] += lot.amount
    return tuple(
        item
        for number, item in enumerate(items)
        if item.supply.how is SupplyWay.BUY and item.supply.price is None
        if there[number] < most[number] and question.sources[number].free < units[number]
    )


def _days(coming: Coming, bar: Bar) -> int:
    for at, (day, _) in enumerate(coming.nights):
        if day < bar.today:
            what = f"the night of {day} is over"
            why = f"today is {bar.today}"
            where = coming.where(["nights", at, "date"]) if coming.file else None
            raise BadInput(what, where=where, why=why)
        if (day - bar.today).days >= MOST_DAYS:
            what = f"{day} is too far away to plan drinks"
            where = coming.where(["nights", at, "date"]) if coming.file else None
            raise BadInput(what, where=where, remedy=f"Plan {MOST_DAYS} days at most.")
    return max((day - bar.today).days for day, _ in coming.nights) + 1


def _drinks(coming: Coming, bar: Bar) -> tuple[ChosenDrink, ...]:
    names = tuple(coming.shares)
    specs: tuple[Spec, ...]
    if names:
        specs = tuple(_spec(name, coming, bar) for name in names)
    else:
        specs = read_specs(bar.specs)
        names = tuple(spec.name for spec in specs)
    if not specs:
        remedy = "Save one with `equipour design ... --save NAME`."
        raise BadInput("there is no spec in this bar", remedy=remedy)
    twice = {spec.name for spec in specs}
    if len(twice) < len(specs):
        name = next(s.name for at, s in enumerate(specs) if s.name in {t.name for t in specs[:at]})
        raise BadInput(f"{name} is named twice", remedy="Give it one share.")
    shares = settled_shares(coming, names)
    return tuple(
        _chosen(spec, share, bar, fresh_too=coming.spend is None)
        for spec, share in zip(specs, shares, strict=True)
    )


def _chosen(spec: Spec, share: PlanShare, bar: Bar, *, fresh_too: bool) -> ChosenDrink:
    takes = taken(spec, bar, fresh_too=fresh_too)
    return ChosenDrink(spec, share, takes, left_out(spec, takes, bar))


def left_out(spec: Spec, takes: Collection[str], bar: Bar) -> tuple[str, ...]:
    """What a garnish takes that is not among what is counted, by name or in the spec's words."""
    garnish = one_serve(spec, bar).garnish
    names = (bar.bottles.find(key).name for key in garnish.amounts if key not in takes)
    return (*names, *garnish.uncounted)


def taken(spec: Spec, bar: Bar, *, fresh_too: bool = False) -> dict[str, float]:
    """What one serve takes, as in `ChosenDrink`; `fresh_too`: fruit to cut and herbs, listed or
    not."""
    mixed = standing_batch(spec, bar)
    serve = one_serve(spec, bar) if mixed is None else mixed.serve(serve_ml(mixed), bar)
    listed = bar.shelf.row if bar.shelf is not None else lambda _: None
    fresh = {fruit.key for fruit in fruit_by_juice(bar.library).values()} if fresh_too else set()
    if fresh_too:
        fresh |= {key for key in serve.garnish.amounts if bar.bottles.find(key).is_kind(HERB)}
    amounts = whole_eggs(serve.amounts, bar.stocked)
    return {
        key: amount
        for key, amount in amounts.items()
        if (key in serve.poured or key in fresh or listed(key) is not None)
        and not is_from_tap(bar.bottles.find(key))
    }


def _mixed(drinks: Iterable[ChosenDrink], bar: Bar) -> list[MixedAhead]:
    """The batches that stand mixed and that drinks take."""
    found = (standing_batch(drink.spec, bar) for drink in drinks)
    return [each for each in found if each is not None]


def _spec(name: str, coming: Coming, bar: Bar) -> Spec:
    try:
        return find_spec(name, bar.specs)
    except BadInput as error:
        if error.where is not None or coming.file is None:
            raise
        raise error.at(coming.where(["shares", name])) from None


def _placed_batches(coming: Coming, bar: Bar) -> dict[str, str]:
    """The amount that a batch of a recipe makes, by the recipe's key."""
    from solver.tasks.prep import find_recipe
    from solver.tasks.prep.amount_to_make import read_amount

    found: dict[str, str] = {}
    for name, text in coming.batches.items():
        try:
            key = find_recipe(name, bar).key
            read_amount(text, key, bar)
            found[key] = text
        except BadInput as error:
            place = coming.where(["batches", name]) if coming.file else None
            raise (error if error.where else error.at(place)) from None
    return found


def _use_up(
    name: str, day: date, items: Sequence[Item], at: Mapping[str, int],
    drinks: Sequence[ChosenDrink], coming: Coming, bar: Bar,
) -> UseUp:  # fmt: skip
    """The demand to use something up by a day: less is left than a serve of any drink takes."""
    where = coming.where(["use_up", name])
    try:
        item = item_named(name, {each.key: each for each in items}, bar)
        last = (day - bar.today).days
        if last < 0:
            raise BadInput(f"{day} is over", why=f"today is {bar.today}")
    except BadInput as error:
        raise (error if error.where else error.at(where)) from None
    takes = [each.takes for each in drinks]
    takes += [each.supply.takes for each in items if each.supply.how is SupplyWay.MIX]
    pours = [each[item.key] for each in takes if item.key in each]
    within = max(0, min(map(ticks_up, pours)) - 1) if pours else 0
    end = max((night - bar.today).days for night, _ in coming.nights)
    return UseUp(at[item.key], min(last, end), within)
