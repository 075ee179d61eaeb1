"""The words of a plan that its text and its papers share.

Each function takes the `words` of a language: a terminal's are English, those of a paper what it
was asked for in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime
from itertools import takewhile

from solver.night.best_plan import NightAim, ProofStage
from solver.night.second_opinion import SecondVerdict
from solver.pantry.batches import BATCH
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec import Spec
from solver.quantities import show_count, show_number
from solver.show.names_in_a_row import listed, short_name
from solver.show.words import LIBRARY, Words, words_of
from solver.show.words.phrase import Phrase
from solver.tasks.plan.answer import (
    BuyingOrder,
    Ending,
    Evening,
    Job,
    Plan,
    PlanSecondOpinion,
    VesselUse,
)
from solver.tasks.plan.hours import HANDS_H
from solver.tasks.plan.question import MONEY
from solver.tasks.plan.supplies import ASSUMED_PRICE, SupplyWay

ENGLISH = words_of(LIBRARY)
LITRE = 1000.0
_PIECES = "pieces"
_BAG = 250.0
"""Grams by which bags of fruit are filled: common practice, no source."""
_TENTHS_BELOW_KG = 10.0
AIMS = {
    NightAim.LOSS: "loses the least, what is bought and what spoils together",
    NightAim.WASTE: "lets the least spoil",
    NightAim.COST: "costs the least",
    NightAim.EVENNESS: "is nearest to the shares",
    NightAim.WORK: "needs the least prepared",
}


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
    if fruit.ingredient.is_kind("egg"):
        eggs = words.count(job.units, "egg")
        return words.phrase("plan", "separate", eggs=eggs, amount=amount)
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
    return words.say("plan", "bottles", bottles=words.count(order.units, _held_in(item)), each=each)


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


def _held_in(item: Ingredient) -> str:
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


NOT_NEEDLESS = "without prep that no drink could use"
"""What is compared: less might spoil if more were cooked only to use it up."""


def proof_said(plan: Plan, currency: str) -> list[str]:
    """How far the plan is proven to be the best, and by which prices."""
    seconds = f"{plan.seconds:.2f} s"
    money = next(aim for aim in plan.aims if aim in {NightAim.LOSS, NightAim.COST})
    aims = {aim: AIMS[aim] for aim in plan.aims}
    aims[money] += assumed_said(plan, currency)
    if plan.proven:
        best = ", then ".join(aims.values())
        return [f"Of all plans {NOT_NEEDLESS}, this one {best}. Proven, {seconds}."]
    reached = {stage.aim: stage for stage in plan.stages}
    told = [f"{words}{gap_said(reached.get(aim))}" for aim, words in aims.items()]
    known = min(known_aims(plan), len(told) - 1)
    told[known] = f"nearly {told[known]}"
    nearly = f"Of all plans {NOT_NEEDLESS}, this one {', then '.join(told)}; {seconds}."
    return [nearly, *lost_said(plan, currency)]


def known_aims(plan: Plan) -> int:
    """How many of its aims it is proven to reach, from the first on: all where all is proven."""
    reached = {stage.aim: stage for stage in plan.stages}
    known = (aim in reached and reached[aim].proven for aim in plan.aims)
    return sum(1 for _ in takewhile(bool, known))


def lost_said(plan: Plan, currency: str, kind: str = "plan") -> list[str]:
    """What a plan loses, and what is the least that any could, where it may not be that."""
    said: list[str] = []
    for stage in plan.stages:
        if stage.aim is NightAim.LOSS and not stage.proven:
            value, bound = (money_said(of / MONEY, currency) for of in (stage.value, stage.bound))
            below = f"no such {kind} comes below {bound}"
            said.append(f"What is bought and what spoils come to {value}; {below}.")
    return said


def second_said(second: PlanSecondOpinion) -> str:
    """What a second solver says."""
    match second.verdict:
        case SecondVerdict.AGREES:
            return "A second solver (HiGHS) agrees."
        case SecondVerdict.OPEN:
            return "A second solver (HiGHS) found nothing against it, but had no time to prove it."
        case SecondVerdict.DISAGREES:
            differs = f"A second solver (HiGHS) does not agree: it says {second.instead}."
            return f"{differs} One of the two is wrong; please report it."


NO_ROOM = "Where no vessel is free, borrow one or begin earlier: a plan does not count vessels."
MOST_UNPRICED = 4
"""Things without a price that are named one by one."""


def unrecorded_said(plan: Plan) -> list[str]:
    """What the house is to make and has no recipe of: what it costs is in no sum."""
    made: dict[str, float] = {}
    items = {job.ingredient.key: job.ingredient for job in plan.jobs}
    for job in plan.jobs:
        if job.supply.how is SupplyWay.MAKE:
            made[job.ingredient.key] = made.get(job.ingredient.key, 0.0) + job.amount
    if not made:
        return []
    what = listed(
        f"{amount_said(amount, items[key])} {short_name(items[key])}"
        for key, amount in made.items()
    )
    return [f"To make by no recipe, so nothing for it is in the order: {what}."]


def assumed_said(plan: Plan, currency: str) -> str:
    """What was counted for things to buy that have no price."""
    unpriced = plan.question.unpriced
    if not unpriced:
        return ""
    price = money_said(ASSUMED_PRICE * LITRE, currency)
    units = {"kilo" if item.ingredient.per == "g" else "litre" for item in unpriced}
    each = listed(sorted(units, reverse=True), " or ")
    if len(unpriced) > MOST_UNPRICED:
        return f" ({len(unpriced)} things have no price and are counted as {price} the {each})"
    names = [item.ingredient.name for item in unpriced]
    be = "are" if _are_many(names) else "is"
    return f" ({without_price(names)} and {be} counted as {price} the {each})"


def without_price(names: Sequence[str]) -> str:
    """That things have no price."""
    return f"{listed(names)} {'have' if _are_many(names) else 'has'} no price"


def _are_many(names: Sequence[str]) -> bool:
    """Whether names are spoken of as many; "whole oranges" are, alone too."""
    return len(names) > 1 or names[0].startswith("whole ")


def gap_said(stage: ProofStage | None) -> str:
    """How far from the best a stage may be."""
    if stage is not None and stage.proven:
        return " (proven)"
    if stage is None or stage.bound <= 0:
        return " (not proven)"
    return f" (to {max(0.1, 100 * stage.gap):.1f} %)"


def remarks(plan: Plan) -> list[str]:
    """What was assumed, and what is not poured."""
    said: list[str] = []
    bought = {order.ingredient.key for order in plan.orders}
    for item in plan.question.items:
        name = item.ingredient.name
        if item.past is not None:
            said.append(f"{name} is past its last day ({item.past.use_by}), and not poured.")
        if item.key in bought and item.supply.assumed_size:
            size, held = amount_said(item.supply.unit, item.ingredient), _held_in(item.ingredient)
            said.append(f"How much a {held} of {name} holds is not known: taken as {size}.")
        if item.older:
            said.append(f"{name} was mixed by an older recipe, and is poured as it was mixed.")
    if any(job.vessel is not None and not job.vessel.fits for job in plan.jobs):
        said.append(NO_ROOM)
    said += _eggs_of_both(plan)
    if plan.question.nights.menu is None:
        said += _unshared(plan)
    # Juice that is pressed here is counted as its fruit.
    untold = [
        short_name(item.ingredient)
        for item in plan.question.items
        if item.untold and item.supply.how is not SupplyWay.PRESS
    ]
    if untold:
        said.append(f"Not counted on the shelf, so taken as none: {listed(untold)}.")
    return said


def _eggs_of_both(plan: Plan) -> list[str]:
    """How many eggs fewer do where whites and yolks of a day are separated together."""
    eggs: dict[date, dict[str, int]] = {}
    for job in plan.jobs:
        if job.supply.fruit is not None and job.supply.fruit.ingredient.is_kind("egg"):
            eggs.setdefault(job.day, {})[job.ingredient.key] = job.units
    both = sum(min(units.values()) for units in eggs.values() if len(units) > 1)
    if not both:
        return []
    fewer = show_count(both, "egg")
    return [
        f"White and yolk are separated from eggs of their own: of the same ones, {fewer} fewer do."
    ]


def _unshared(plan: Plan) -> list[str]:
    """What share was taken for drinks of which nobody stated one, where there are several."""
    stated = list(plan.question.coming.shares.values())
    drinks = plan.question.drinks
    unstated = [
        d for d, share in zip(drinks, stated or [None] * len(drinks), strict=True) if not share
    ]
    if len(unstated) < 2:
        return []
    share = unstated[0].share
    names = (
        "every drink"
        if len(unstated) == len(drinks)
        else "each of " + listed([drink.spec.name for drink in unstated])
    )
    ends = f"{show_number(share.low / 100, 0)} to {show_number(share.high / 100, 0)} %"
    return [f"No share was stated: {names} may be {ends} of the drinks, as spoils and costs least."]
