"""Choose a menu: candidates from the book and from designs, the best of them, and its plan."""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import chain, count

from solver.clock import Clock
from solver.errors import BadInput
from solver.night.best_plan import (
    MENUS_WASTE_FIRST,
    OF_MENUS,
    NightAim,
    NoPlan,
    NoTime,
    Planned,
    best_plan,
)
from solver.night.menu_evaluator import broken
from solver.night.plan_evaluator import pour
from solver.night.problem import WHOLE_SHARE
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.stocked import Stocked
from solver.pantry.word_forms import brief
from solver.search.milp.backend import Backend
from solver.search.milp.choices_first import ChoicesFirst
from solver.search.milp.cpsat import CpSat
from solver.search.milp.integer_program import ProgramSolver
from solver.tasks.menu.answer import Menu, MenuAnswer, NoMenu, Offer, Unshown
from solver.tasks.menu.candidates import MenuCandidate, NewDrink, candidate, of_the_book
from solver.tasks.menu.menu_wish import MenuWish, in_question
from solver.tasks.menu.nearly_for_guest import nearly_for_guest
from solver.tasks.menu.new_drinks import NewDrinks, pourable
from solver.tasks.menu.question import menu_question
from solver.tasks.menu.why_no_menu import held_back, words_of
from solver.tasks.plan.answer import PlanOutOfTime, Refusal
from solver.tasks.plan.plan import answer_of
from solver.tasks.plan.question import Question
from solver.tasks.plan.ticks import MONEY
from solver.tasks.plan.why_no_plan import why_no_plan
from solver.tasks.price.cheaper import fully_priced
from solver.tasks.price.list_price import most_to_cost
from solver.tasks.price.unit_prices import UnitPrices
from solver.tasks.save import spec_of_answer

DESIGNING = 0.4
"""Share of the time in which new drinks are designed: our own choice."""

_TELLS_NOTHING = ("egg", "foam", "dairy", "mixer", "acid", "sugar", "syrup/plain")
"""Kinds by which nobody calls a drink."""

SEARCHING = 0.5
"""Share of what is left after that for the menu itself, where its demands are asked about too."""


def menu(
    wish: MenuWish,
    bar: Bar,
    clock: Clock,
    *,
    why: bool = False,
    waste_first: bool = False,
    solver: ProgramSolver | None = None,
    backend: Backend | None = None,
) -> MenuAnswer:
    """The best menu for a wish, or the proof that there is none with its reasons.

    With `why`, the gain from dropping each demand is determined; with `waste_first`, spoilage is
    minimised before costs.

    Raises:
        BadInput, BadInputs: something that is named is not known, or cannot be.
    """
    began = time.monotonic()
    solver = solver or ChoicesFirst()
    prices = UnitPrices(bar)
    book, misread = of_the_book(bar, prices, wish.price)
    time_ = clock.within(DESIGNING * clock.left if wish.new else 0.0)
    new = _new(wish, bar, prices, book, backend or CpSat(), time_)
    cut = wish.new and not time_.left
    drinks = [*book, *new]
    if not drinks:
        what = "there is no spec in this bar, and no new drink of what is dated"
        raise BadInput(what, remedy="Say what to make some of, like --of gin.")
    question, words = menu_question(wish, drinks, bar), words_of(wish)
    no: Refusal | PlanOutOfTime
    searching = clock.within(SEARCHING * clock.left if why else clock.left)
    aims = _aims(drinks, waste_first=waste_first)
    match best_plan(question.nights, solver, searching, aims=aims):
        case Planned() as found:
            answer = _menu(wish, question, drinks, found, bar, began)
            answer = replace(answer, misread=misread, cut=cut)
            if why:
                told = held_back(question, found.stages, aims, words, bar, solver, clock)
                answer = replace(answer, held_back=told)
            return answer
        case NoPlan():
            no = why_no_plan(question, bar, solver, clock, began, words)
        case NoTime():
            no = PlanOutOfTime(question, time.monotonic() - began)
    near = nearly_for_guest(wish.guests, drinks, bar)
    return NoMenu(wish, no, len(drinks), len(new), misread, near, cut)


def _new(
    wish: MenuWish, bar: Bar, prices: UnitPrices, book: Sequence[MenuCandidate], backend: Backend,
    clock: Clock,
) -> list[MenuCandidate]:  # fmt: skip
    """New drinks of what must be poured, under descriptive names.

    A drink with the ingredients and technique of a spec in the book is not new.
    """
    if not clock.left:
        return []
    cost = None
    if wish.price is not None:
        cost = most_to_cost(wish.price, bar.costing.pour_cost, bar.costing.tax_in_list)
    drinks = max(number for _, number in wish.coming.nights)
    buying = wish.coming.spend is None or wish.coming.spend > 0
    serves = 1 if buying else max(1, wish.share.low * drinks // WHOLE_SHARE)
    keys = in_question(wish, bar)
    full = fully_priced(bar, prices)
    seen = pourable(full, keys, wish.last, buying=buying, priced=wish.price is not None)
    designs = NewDrinks(seen, serves, cost, backend)
    found: list[MenuCandidate] = []
    taken: dict[str, tuple[str, str] | None] = {
        spec.name.casefold(): None for spec in bar.book.specs
    }
    known = {_made_of(each.cost.made.technique, each.cost.made.lines) for each in book}
    poured: set[object] = set()
    for each in designs.of(keys, wish.guests, clock):
        pours = frozenset((pour.ingredient.key, pour.amount) for pour in each.answer.pours)
        alike = _made_of(each.design.profile.technique, each.answer.pours)
        if alike in known or (each.family, pours) in poured:
            continue
        poured.add((each.family, pours))
        base, shown = each.answer.ingredients[0].name, bar.bottles.find(each.made_for)
        name = _name(each.design.profile.name, base, shown, taken)
        taken[name.casefold()] = each.design.profile.name, shown.key
        spec = spec_of_answer(each.design, each.answer, name, bar, bar.today)
        new = NewDrink(each.answer, each.made_for)
        found.append(candidate(spec, bar, prices, wish.price, new))
    return found


def _aims(drinks: Sequence[MenuCandidate], *, waste_first: bool) -> tuple[NightAim, ...]:
    """What is minimised, in this order; what pouring costs only where something has a cost."""
    aims = MENUS_WASTE_FIRST if waste_first else OF_MENUS
    costed = any(each.cost.total is not None for each in drinks)
    return tuple(aim for aim in aims if costed or aim is not NightAim.POURING)


def _made_of(technique: str, pours: Sequence[Pour]) -> tuple[str, frozenset[str]]:
    """The technique and ingredients of a drink, without amounts."""
    return technique, frozenset(pour.ingredient.key for pour in pours)


def _name(
    profile: str, base: str, shown: Ingredient, taken: Mapping[str, tuple[str, str] | None]
) -> str:
    """A descriptive name that no drink of the book has, nor a new one of another profile or that
    shows something else: of all others only one is offered."""
    kind, base, last = profile.replace("-", " ").capitalize(), brief(base), brief(shown.name)
    plain, of_both = f"{kind} of {base}", f"{kind} of {base} and {last}"
    alone = base == last or any(map(shown.is_kind, _TELLS_NOTHING))
    names = chain([plain] if alone else [], [of_both], (f"{of_both} {n}" for n in count(2)))
    own = profile, shown.key
    return next(name for name in names if taken.get(name.casefold(), own) == own)


def _menu(
    wish: MenuWish, question: Question, drinks: Sequence[MenuCandidate], found: Planned, bar: Bar,
    began: float,
) -> Menu:  # fmt: skip
    nights = question.nights
    # The exact evaluators have the last word.
    poured = pour(nights, found.plan)
    if nights.menu is None or broken(nights, nights.menu, found.plan):
        message = "a menu does not keep what was asked"
        raise RuntimeError(message)
    offers = [
        Offer(each, counts, tuple(_uses(each, sum(counts), wish, question, bar)))
        for each, counts in zip(drinks, zip(*found.plan.serves, strict=True), strict=True)
        if any(counts)
    ]
    return Menu(
        wish=wish,
        offers=tuple(sorted(offers, key=lambda offer: (-offer.serves, offer.drink.spec.name))),
        plan=answer_of(question, found, poured, bar, began),
        poured_cost=sum(s.value for s in found.stages if s.aim is NightAim.POURING) / MONEY,
        compared=len(drinks),
        designed=sum(each.new is not None for each in drinks),
        idle=_idle(wish, question, bar),
        dear=tuple(drinks[at] for at in sorted(nights.menu.dear)),
        unshown=tuple(_unshown(wish, offers, bar)),
        misread=(),
    )


def _uses(
    drink: MenuCandidate, serves: int, wish: MenuWish, question: Question, bar: Bar
) -> list[tuple[Ingredient, float]]:
    """What serves take of the ingredients of new drinks, and of what is dated within the plan."""
    days = question.nights.days
    dated = {
        question.items[lot.item].key
        for lot in question.nights.lots
        if lot.last is not None and lot.last < days
    }
    told = {*dated, *in_question(wish, bar)}
    items = {item.key: item.ingredient for item in question.items}
    return [(items[k], serves * each) for k, each in drink.takes.items() if k in told]


def _unshown(wish: MenuWish, offers: Sequence[Offer], bar: Bar) -> Iterator[Unshown]:
    """What is named to make new drinks of, and is in none that is offered."""
    poured = {key for offer in offers for key in offer.drink.takes}
    for key in in_question(wish, bar) if wish.of else ():
        if key not in poured:
            row = bar.waiting_row(key)
            yield Unshown(bar.bottles.find(key), None if row is None else row.ready)


def _idle(wish: MenuWish, question: Question, bar: Bar) -> tuple[Stocked, ...]:
    """Batches of dated ingredients that no drink takes."""
    known = {item.key for item in question.items}
    return tuple(
        lot
        for row in bar.stock
        if row.ingredient.key not in known and row.on_hand
        for lot in row.lots
        if lot.use_by is not None and lot.use_by <= wish.last
    )
