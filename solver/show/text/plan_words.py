"""The words of a plan that its text and its papers share.

Each function takes the `words` of a language: a terminal's are English, those of a paper what it
was asked for in.
"""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta

from solver.pantry.batches import BATCH
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec
from solver.quantities import show_count, show_number
from solver.show.words import LIBRARY, Words, words_of
from solver.show.words.names_in_a_row import listed
from solver.show.words.phrase import Phrase
from solver.tasks.plan.answer import (
    BuyingOrder,
    Ending,
    Evening,
    Job,
    Plan,
    VesselUse,
)
from solver.tasks.plan.hours import HANDS_H
from solver.tasks.plan.supply import SupplyWay

ENGLISH = words_of(LIBRARY)
LITRE = 1000.0
SOON = timedelta(days=7)
"""How long after the last night something must be used that is told without being asked for."""
OPEN = timedelta(days=92)
"""The same of what is left in an open bottle: wines fade, spirits do not; our own choice."""
_PIECES = "pieces"
_BAG = 250.0
"""Grams by which bags of fruit are filled: common practice, no source."""
_TENTHS_BELOW_KG = 10.0


def day_said(day: date, words: Words = ENGLISH) -> str:
    """A day, like "Fri 2026-05-08"."""
    return f"{words.weekday(day)} {words.day(day)}"


def count_said(count: int, words: Words = ENGLISH) -> str:
    """So many drinks."""
    return words.count(count, "drink")


def moment_said(moment: datetime, words: Words = ENGLISH) -> str:
    """A day and an hour, like "Thu 2026-05-07 15:00"."""
    return f"{day_said(moment.date(), words)} {moment:%H:%M}"


def amount_said(amount: float, ingredient: Ingredient, words: Words = ENGLISH) -> str:
    """An amount in bulk: "350 mL", "1.36 L", "2 kg"; of eggs "12 pieces"; of honey, which is sold
    so, its weight."""
    size, unit = ingredient.counted_in
    if unit == _PIECES and ingredient.per == "ml":  # fruit is told by its weight
        return words.count(round(amount / size), "piece")
    weighed = ingredient.per == "g" or ingredient.sold_by == "weight"
    amount, small, big = (
        (ingredient.weight_g(amount), "g", "kg") if weighed else (amount, "mL", "L")
    )
    if amount >= LITRE:
        return words.amount(f"{show_number(amount / LITRE, 2)} {big}")
    return words.amount(f"{show_number(amount, 0)} {small}")


def money_said(amount: float, currency: str, words: Words = ENGLISH) -> str:
    """A sum, with the bar's currency where it has one."""
    return f"{words.number(amount, 2)} {currency}".rstrip()


def job_said(job: Job, words: Words = ENGLISH) -> Phrase:
    """What to do: "cook 2 batches, 6.2 L"."""
    amount, fruit = amount_said(job.amount, job.ingredient, words), job.supply.fruit
    if job.supply.how is SupplyWay.COOK:
        batches = words.count(job.units, "batch")
        return words.phrase("plan", "cook", batches=batches, amount=amount)
    if fruit is None:
        return words.phrase("plan", "make", amount=amount)
    if job.supply.how is SupplyWay.SEPARATE:
        more = job.units - job.same_eggs
        eggs = words.count(more, "egg")
        which = "separate" if not job.same_eggs else "separate_more" if more else "same_eggs"
        return words.phrase("plan", which, eggs=eggs, amount=amount)
    name = words.called(fruit.ingredient.name).without(words.say("plan", "whole"))
    if job.units == 1 and words.language == LIBRARY:
        name = Phrase.of(str(name).removesuffix("s"))
    return words.phrase("plan", "press", count=str(job.units), fruit=name, amount=amount)


def _vessel_said(job: Job, use: VesselUse, words: Words) -> Phrase:
    """Where it is made: "in the stockpot", "in two makes in the jug, after the lemon juice"."""
    if not use.fits:
        return Phrase.of(_no_vessel_said(job, use, words))
    which = {1: "in_vessel", 2: "in_two_makes"}.get(use.makes, "in_makes")
    where = words.say("plan", which, makes=str(use.makes), vessel=use.vessel.name)
    if not use.after:
        return Phrase.of(where)
    return words.phrase("plan", "after", where=where, before=words.called(use.after))


def _no_vessel_said(job: Job, use: VesselUse, words: Words) -> str:
    """That no vessel is free for so long: "no vessel for it: 5 makes in the jug take 43 h"."""
    if use.makes == 1:
        return words.say("plan", "no_vessel")
    hours = use.makes * (HANDS_H if job.supply.hours is None else job.supply.hours.hours)
    makes, vessel = str(use.makes), use.vessel.name
    return words.say("plan", "no_vessel_so_long", makes=makes, vessel=vessel, hours=f"{hours:.0f}")


def job_beside(job: Job, words: Words = ENGLISH) -> list[Phrase]:
    """What else is to be known of a job, in short sentences."""
    said = [] if job.vessel is None else [_vessel_said(job, job.vessel, words)]
    if job.start is not None and job.day != job.ready:
        said.append(words.phrase("plan", "ready", day=day_said(job.ready, words)))
    if job.use_by is not None:
        said.append(words.phrase("plan", "use_by", day=day_said(job.use_by, words)))
    if job.supply.how is SupplyWay.MAKE:
        said.append(words.phrase("plan", "no_recipe"))
    elif job.supply.hours is not None and not job.supply.hours.stated:
        said.append(words.phrase("plan", "no_hours"))
    return said


def weighed_said(job: Job, words: Words = ENGLISH) -> Phrase:
    """What to weigh out."""
    return words.row(
        Phrase.of(f"{words.number(grams, 1 if grams < 10 else 0)} g ") + words.called(name)
        for name, grams in job.weigh
    )


def order_said(order: BuyingOrder, words: Words = ENGLISH) -> str:
    """How much to buy: "4 bottles of 700 mL", "1 case of 6 x 750 mL", "20 pieces, 1.2 kg"."""
    supply, item = order.supply, order.ingredient
    if supply.fruit is not None:
        amount = amount_said(order.units * supply.unit, item, words)
        return words.say("plan", "pieces", pieces=words.count(order.units, "piece"), amount=amount)
    each = _bottle_said(supply.unit / supply.case, item, words)
    if supply.case > 1:
        cases = words.count(order.units, "case")
        return words.say("plan", "cases", cases=cases, count=str(supply.case), each=each)
    if each == words.count(1, "piece"):
        return words.count(order.units, "piece")
    return words.say("plan", "bottles", bottles=words.count(order.units, held_in(item)), each=each)


def _bottle_said(amount: float, item: Ingredient, words: Words) -> str:
    """What is in a bottle, bag or carton; of fruit in a carton of so many, how many.

    Fruit that is sold by weight comes in bags of a round one.
    """
    size, unit = item.counted_in
    count = round(amount / size)
    whole = count > 1 and math.isclose(amount, count * size, rel_tol=1e-3)
    if unit == _PIECES and whole and amount % _BAG:
        return words.count(count, "piece")
    return amount_said(amount, item, words)


def fruit_said(order: BuyingOrder) -> str:
    """How much fruit to buy, named, on a terminal: "20 limes, 1.2 kg"."""
    item = order.ingredient
    one = item.name.removeprefix("whole ").removesuffix("s")
    return f"{show_count(order.units, one)}, {amount_said(order.units * order.supply.unit, item)}"


def held_in(item: Ingredient) -> str:
    """What an ingredient is bought in, where nobody says."""
    if item.counted_in[1] == _PIECES:
        return "carton"
    return "bottle" if item.per == "ml" else "bag"


def drinks_said(evening: Evening, words: Words = ENGLISH) -> str:
    """The drinks of a night, most first."""
    poured = sorted(evening.drinks, key=lambda pair: -pair[1])
    said = [_served(evening, spec, count, words) for spec, count in poured if count]
    return ", ".join(said) or words.say("plan", "none")


def _served(evening: Evening, spec: Spec, count: int, words: Words) -> str:
    """So many of a drink: "20 Chapel (12 from the batch)"."""
    mixed = evening.from_batch.get(spec.name, 0)
    if not mixed:
        return f"{count} {spec.name}"
    which = "mixed" if mixed == count else "mixed_in_part"
    return words.say("plan", which, count=str(count), drink=spec.name, mixed=str(mixed))


def ice_said(evening: Evening, words: Words = ENGLISH) -> str:
    """The ice of a night: to the kilogram, below ten to a tenth."""
    if not evening.ice_kg:
        return words.say("plan", "no_ice")
    return words.say("plan", "ice", amount=ice_amount_said(evening, words))


def ice_amount_said(evening: Evening, words: Words = ENGLISH) -> str:
    """How much ice a night takes: "13 kg"."""
    small = evening.ice_kg < _TENTHS_BELOW_KG
    least = 0.1 if evening.ice_kg else 0.0
    return f"{words.number(max(least, evening.ice_kg), 1 if small else 0)} kg"


def ending_said(ending: Ending, currency: str, words: Words = ENGLISH) -> Phrase:
    """What is left of something on its last day."""
    said = words.phrase(
        "plan", "ending",
        name=words.called(ending.ingredient.name),
        amount=amount_said(ending.amount, ending.ingredient, words),
        day=day_said(ending.day, words),
    )  # fmt: skip
    if ending.worth is None:
        return said
    worth = money_said(ending.worth, currency, words)
    return words.phrase("plan", "worth", ending=said, worth=worth)


def soon_over(plan: Plan) -> list[Ending]:
    """What is left and is over within days of the last night."""
    return [ending for ending in plan.later if ending.day <= plan.evenings[-1].day + SOON]


def left_open(plan: Plan) -> list[Ending]:
    """What else is left in bottles that are open."""
    last = plan.evenings[-1].day
    return [each for each in plan.later if each.opened and last + SOON < each.day <= last + OPEN]


def specials_said(ending: Ending, words: Words = ENGLISH) -> str:
    """What would use it up, and by when; empty where no spec does."""
    if not ending.specials:
        return ""
    drinks = [
        words.say("plan", "more", count=str(special.serves), drink=special.spec.name)
        if special.planned
        else f"{special.serves} {special.spec.name}"
        for special in ending.specials
    ]
    either = listed(drinks, words.say("plan", "or"))
    return words.say("plan", "used_up", drinks=either, day=day_said(ending.day, words))


def design_said(ending: Ending) -> str:
    """The command that makes another drink of it; empty of what no profile takes, and of a drink
    that stands mixed."""
    if ending.profile is None or ending.ingredient.is_kind(BATCH):
        return ""
    return f"equipour design {ending.profile} --feature {ending.ingredient.key}"
