"""A menu as people read it: what is offered, what is left, what spoils, and how that is known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.pantry.vocabulary import TECHNIQUE_NAMES
from solver.quantities import show_count, show_number
from solver.show.text import menu_words as words
from solver.show.text import plan_proof, plan_words
from solver.show.text.guest import DEFERS, caution_lines, cautions_of, told_words
from solver.show.text.plan import against, orders
from solver.show.text.plan_words import soon_over
from solver.show.text.table import csv_table
from solver.show.words.names_in_a_row import listed, short_name
from solver.tasks.menu.answer import BestWithoutDemand, Menu, MenuAnswer, NoMenu, Offer
from solver.tasks.plan.answer import Ending, Refusal

MOST_TOLD = 4
"""Things that spoil which are told one by one; of the others what they are worth."""
_NAME = 51
_DREGS = 20.0
"""What is left of something below which it is not told, mL or g: less than a pour."""
CENT = 0.01
"""Worth below which nothing is told: a drop that is left."""
_CUT = "There was no time to design more drinks; a longer --time-limit finds others."


def menu_text(found: MenuAnswer, bar: Bar, *, everything: bool = False) -> str:
    """The answer; `everything` says of each demand what would be better without it."""
    match found:
        case Menu():
            return "\n".join(line.rstrip() for line in _menu(found, bar, everything=everything))
        case NoMenu(found=Refusal() as refusal):
            return "\n".join(_refusal(refusal, found))
        case NoMenu():
            return "There was no time to find a menu, or to prove that there is none."


def _menu(menu: Menu, bar: Bar, *, everything: bool) -> Iterator[str]:
    evenings = menu.plan.evenings
    first, last = evenings[0].day, evenings[-1].day
    until = "" if first == last else f" to {plan_words.day_said(last)}"
    count = plan_words.count_said(sum(evening.count for evening in evenings))
    yield f"Menu: {count}, {plan_words.day_said(first)}{until}"
    yield ""
    money = f"price{f', {bar.currency}' if bar.currency else ''}"
    yield f"{'':<{_NAME}}{'serves':>7}{money:>12}{'margin':>10}"
    for offer in menu.offers:
        yield from _offer(offer, menu, bar)
    for line, names in cautions_of((o.drink.spec.name, o.drink.guest) for o in menu.offers):
        yield f"{listed(names)}: {line}"
    for guest in menu.wish.guests:
        suits = (offer.drink.spec.name for offer in menu.offers if offer.drink.suits(guest))
        yield f'For "{guest.word}": {listed(suits)}.'
    yield ""
    yield from _endings("Will spoil", menu.plan.endings, bar)
    yield from _left(menu)
    if menu.idle:
        yield f"No drink here pours: {_idle(menu.idle)}."
    yield from orders(menu.plan, bar)
    if everything:
        yield from _why(menu, bar)
    remarks = [*plan_proof.remarks(menu.plan), *_remarks(menu)]
    if remarks:
        yield ""
        yield from remarks
    yield ""
    yield DEFERS
    yield from words.proof_said(menu, bar.currency)
    if menu.new:
        yield "New drinks are on target by the numbers: taste them. --save writes their specs."
    if bar.today_stated:
        yield f"Today is {bar.today}, as bar.toml says."


def _offer(offer: Offer, menu: Menu, bar: Bar) -> Iterator[str]:
    drink, asking = offer.drink, offer.drink.asking
    name = drink.spec.name
    price = f"{asking.price:.2f}" if asking else "-"
    margin = f"{show_number(_down(100 * asking.margin))} %" if asking else "no price"
    if len(name) >= _NAME:
        yield name
        name = ""
    yield f"{name:<{_NAME}}{offer.serves:>7}{price:>12}{margin:>10}"
    when, uses = words.when_said(offer, menu), words.uses_said(offer)
    told = [*([when] if when else []), *([f"uses {uses}"] if uses else [])]
    if told:
        yield f"  {'; '.join(told)}"
    if for_guests := told_words(drink.guest.told):
        yield f"  {'; '.join(for_guests)}"
    if drink.new is not None:
        made = TECHNIQUE_NAMES[drink.cost.made.technique]
        yield f"  new: {words.pours_said(offer, bar)}; {made}"


def _down(per_cent: float) -> float:
    """To a tenth, down: no margin is told that is not kept."""
    return int(10 * per_cent + 1e-6) / 10


def _endings(head: str, endings: Sequence[Ending], bar: Bar) -> Iterator[str]:
    if not endings:
        yield f"{head}: nothing"
        return
    ranked = sorted(endings, key=lambda ending: -(ending.worth or 0.0))
    ranked = [e for e in ranked if e.worth is None or e.worth >= CENT / 2] or ranked[:1]
    worth = sum(ending.worth or 0.0 for ending in endings)
    yield f"{head}, {plan_words.money_said(worth, bar.currency)} in all:"
    for ending in ranked[:MOST_TOLD]:
        yield f"  {plan_words.ending_said(ending, bar.currency)}"
    rest: dict[str, list[Ending]] = {}
    for ending in ranked[MOST_TOLD:]:
        rest.setdefault(ending.ingredient.key, []).append(ending)
    if rest:
        said = (
            f"{plan_words.amount_said(sum(e.amount for e in all_), all_[0].ingredient)} "
            f"{short_name(all_[0].ingredient)}"
            for all_ in rest.values()
        )
        yield f"  and {listed(said)}"


def _left(menu: Menu) -> Iterator[str]:
    """What is left of what is over soon after the last night."""
    told = (ending for ending in soon_over(menu.plan) if ending.amount >= _DREGS)
    left = sorted(told, key=lambda e: -(e.worth or 0.0))
    said = [
        f"{plan_words.amount_said(e.amount, e.ingredient)} {short_name(e.ingredient)} until {e.day}"
        for e in left[:MOST_TOLD]
    ]
    if said:
        more = [show_count(len(left) - MOST_TOLD, "other")] if len(left) > MOST_TOLD else []
        yield f"Left, and soon over: {listed([*said, *more])}."


def _idle(rows: Sequence[Stocked]) -> str:
    """Dated things that nobody takes, with their last day."""
    said = (
        f"{short_name(row.ingredient)} ({plan_words.amount_said(row.on_hand or 0, row.ingredient)}"
        f", last day {row.use_by})"
        for row in rows
    )
    return listed(said)


def _why(menu: Menu, bar: Bar) -> Iterator[str]:
    yield ""
    if menu.dear:
        names = listed(each.spec.name for each in menu.dear)
        yield f"Would keep too little of the price, or at a cost that is not known: {names}."
    yield "What holds it back:"
    told = [line for each in menu.held_back or () if (line := _held(each, bar))]
    yield from told or ["  nothing: no demand alone makes it worse"]
    open_ = [each.demand for each in menu.held_back or () if each.first is None]
    if open_:
        yield f"  There was no time to tell of {listed(open_)}."


def _held(each: BestWithoutDemand, bar: Bar) -> str:
    """What would be better without a demand; nothing below a cent."""
    said = [
        f"{plan_words.money_said(-value, bar.currency)} less would {what}"
        for value, what in (
            (each.loss, "be lost"),
            (each.waste, "spoil"),
            (each.pouring, "be poured"),
        )
        if value is not None and value <= -CENT
    ]
    return f"  with {each.instead}: {said[0]}" if said else ""


def _remarks(menu: Menu) -> list[str]:
    unpriced = [o.drink.spec.name for o in menu.offers if o.drink.cost.total is None]
    said = [f"There is no price of all that is in {listed(unpriced)}."] if unpriced else []
    said = [*plan_proof.unrecorded_said(menu.plan), *said]
    if len(unpriced) == len(menu.offers):
        said[-1:] = [
            "No drink on it has a price of all that is in it: shelf.csv says what things cost."
        ]
    said += map(words.unshown_said, menu.unshown)
    unknown = [each.spec.name for each in menu.dear if each.cost.total is None]
    if unknown:
        said.append(f"Not offered, as not all that is in it has a price: {listed(unknown)}.")
    if menu.designed and not menu.new:
        tried = show_count(menu.designed, "new drink")
        said.append(f"{tried} tried: none found a place beside what is in the book.")
    if menu.cut:
        said.append(_CUT)
    return said


def _refusal(found: Refusal, no: NoMenu) -> Iterator[str]:
    yield "No."
    yield ""
    yield f"There is no such menu of {words.compared_said(no.compared, no.designed)}. Proven."
    if no.too_few:
        yield ""
        yield words.too_few_said(no)
    yield from against(found, "menu")
    if no.nearly:
        yield ""
        yield "What comes near:"
        yield from (f"  {words.nearly_said(each)}" for each in no.nearly)
    if no.cut:
        yield ""
        yield _CUT


_HEADS = ("drink", "new", "serves", "first_night", "last_night", "price", "cost", "margin_pct",
          "currency", "glass", "technique", "pours", "uses", "for_guests")  # fmt: skip


def menu_csv(menu: Menu, bar: Bar) -> str:
    """The menu as a table, a row for each drink."""
    return csv_table(_HEADS, (_cells(offer, menu, bar) for offer in menu.offers))


def _cells(offer: Offer, menu: Menu, bar: Bar) -> tuple[str | float | bool | None, ...]:
    drink, made = offer.drink, offer.drink.cost.made
    first, last = words.nights_of(offer, menu)
    return (
        drink.spec.name,
        drink.new is not None,
        offer.serves,
        str(first),
        str(last),
        drink.asking.price if drink.asking else None,
        drink.cost.total,
        100 * drink.asking.margin if drink.asking else None,
        bar.currency,
        made.glass,
        made.technique,
        words.pours_said(offer, bar),
        words.uses_said(offer),
        "; ".join((*told_words(drink.guest.told), *caution_lines(drink.guest))),
    )
