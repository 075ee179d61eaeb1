"""Formulate a menu in whole numbers: a run of nights with a menu to choose."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from solver.drinks.assess import find_drink
from solver.errors import BadInput
from solver.night.problem import WHOLE_SHARE, Capacity, MenuRules, Source
from solver.pantry.bar import Bar
from solver.pantry.plan_file import MOST_DRINKS
from solver.pantry.spec import Spec
from solver.tasks.menu.candidates import MenuCandidate, positions_of_equal
from solver.tasks.menu.menu_wish import MenuWish, in_question
from solver.tasks.menu.similar_drinks import groups_of_similar, look_of_new
from solver.tasks.plan.question import ChosenDrink, Question, left_out, question_of
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.plan.ticks import MONEY

_WHOLE = 1e-6
"""What floats may be off in a hundredth of a per cent."""
NOTHING_KEPT = -(2**30)
"""What a drink keeps of its price whose cost nobody knows: it counts against."""


def menu_question(wish: MenuWish, drinks: Sequence[MenuCandidate], bar: Bar) -> Question:
    """The question of a wish.

    Raises:
        BadInput, BadInputs: as for plans.
    """
    on = _on_the_menu(wish, drinks, bar)
    shares = wish.coming.shares
    stated = {at: shares[name] or wish.share for name, at in on.items()}
    chosen = [
        ChosenDrink(
            each.spec,
            stated.get(at, wish.share),
            each.takes,
            left_out(each.spec, each.takes, bar),
        )
        for at, each in enumerate(drinks)
    ]
    question = question_of(wish.coming, bar, chosen)
    return replace(
        question,
        nights=replace(
            question.nights,
            sources=_nothing_anew(question, in_question(wish, bar)),
            capacities=(),
            menu=MenuRules(
                most=wish.most,
                costs=[_cost(each, question) for each in drinks],
                keeps=[_kept(each) for each in drinks],
                margin=_margin(wish, bar),
                fixed=frozenset(on.values()),
                either=groups_of_similar(drinks),
                guests=[
                    frozenset(at for at, each in enumerate(drinks) if each.suits(guest))
                    for guest in wish.guests
                ],
                capacities=[*question.nights.capacities, *_sober(wish, drinks)],
                kinds=[
                    *positions_of_equal(d.base for d in drinks),
                    *positions_of_equal(d.spec.profile for d in drinks),
                    *positions_of_equal(look_of_new(drinks)),
                ],
                for_two=True,
                # What stands on the shelf uncounted is nothing new.
                known=frozenset(at for at, item in enumerate(question.items) if item.untold),
            ),
        ),
    )


def _nothing_anew(question: Question, keys: Collection[str]) -> list[Source]:
    """The sources, without making more of what is to be used up."""
    found: list[Source] = []
    for at, source in enumerate(question.nights.sources):
        item, supply = question.supply(at)
        more = item.key not in keys or supply.how not in {SupplyWay.MAKE, SupplyWay.COOK}
        found.append(source if more else replace(source, days=()))
    return found


def _on_the_menu(wish: MenuWish, drinks: Sequence[MenuCandidate], bar: Bar) -> dict[str, int]:
    """Positions of the drinks that must be on the menu, by the names given.

    Raises:
        BadInput: one is not a spec of the bar, or is named twice.
    """
    found: dict[str, int] = {}
    places = {each.spec.name: at for at, each in enumerate(drinks) if each.new is None}
    for name in wish.coming.shares:
        at = places[_spec(name, wish, bar).name]
        if at in found.values():
            raise BadInput(f"{name} is named twice", remedy="Give it one share.")
        found[name] = at
    return found


def _spec(name: str, wish: MenuWish, bar: Bar) -> Spec:
    try:
        return find_drink((name,), (), bar)
    except BadInput as error:
        if error.where is not None or wish.coming.file is None:
            raise
        raise error.at(wish.coming.where(["shares", name])) from None


def _cost(drink: MenuCandidate, question: Question) -> int:
    """The cost of a serve, in units of cost; assumed costs replace missing prices."""
    if drink.cost.total is not None:
        return round(drink.cost.total * MONEY)
    worth = {item.key: item.worth for item in question.items}
    return round(MONEY * math.fsum(worth[key] * amount for key, amount in drink.takes.items()))


def _kept(drink: MenuCandidate) -> int:
    """The share of its price that a drink leaves, in hundredths of a per cent, rounded down."""
    if drink.asking is None or math.isinf(drink.asking.margin):
        return NOTHING_KEPT
    return math.floor(drink.asking.margin * WHOLE_SHARE + _WHOLE)


def _margin(wish: MenuWish, bar: Bar) -> int | None:
    """The margin that every drink must leave; None if none is asked for.

    A drink of unknown cost fails any margin.
    """
    if wish.price is None and not wish.priced:
        return None
    return math.ceil((1 - bar.costing.pour_cost) * WHOLE_SHARE - _WHOLE)


def _sober(wish: MenuWish, drinks: Sequence[MenuCandidate]) -> list[Capacity]:
    """The limit on drinks without alcohol on a night. Empty if it cannot bind."""
    sober = frozenset(at for at, each in enumerate(drinks) if each.sober)
    limited = 0 < len(sober) < len(drinks) and wish.sober < WHOLE_SHARE
    return [Capacity(sober, MOST_DRINKS, wish.sober)] if limited else []
