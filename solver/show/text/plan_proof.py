"""What is proven of a plan, what was assumed, and what it does not count."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import takewhile

from solver.night.best_plan import NightAim, ProofStage
from solver.night.second_opinion import SecondVerdict
from solver.pantry.fruit import EGG_PARTS
from solver.pantry.ingredient import Ingredient
from solver.quantities import show_number
from solver.show.text.plan_words import LITRE, amount_said, held_in, money_said
from solver.show.text.set_aside import batches_said
from solver.show.words.names_in_a_row import listed, short_name
from solver.tasks.plan.answer import (
    Plan,
    PlanSecondOpinion,
)
from solver.tasks.plan.items import ASSUMED_PRICE, Item
from solver.tasks.plan.supply import SupplyWay
from solver.tasks.plan.ticks import MONEY

AIMS = {
    NightAim.LOSS: "loses the least, what is bought and what spoils together",
    NightAim.WASTE: "lets the least spoil",
    NightAim.COST: "costs the least",
    NightAim.EVENNESS: "is nearest to the shares",
    NightAim.WORK: "needs the least prepared",
}

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
        return [f"Of all plans {compared(plan)}, this one {best}. Proven, {seconds}."]
    reached = {stage.aim: stage for stage in plan.stages}
    told = [f"{words}{gap_said(reached.get(aim))}" for aim, words in aims.items()]
    known = min(known_aims(plan), len(told) - 1)
    told[known] = f"nearly {told[known]}"
    nearly = f"Of all plans {compared(plan)}, this one {', then '.join(told)}; {seconds}."
    return [nearly, *lost_said(plan, currency)]


def compared(plan: Plan) -> str:
    """Which plans are compared: where one part of eggs is bought, those that buy it."""
    bought = listed(short_name(item.ingredient) for item in bought_beside_eggs(plan))
    return f"{f'that buy {bought}, ' if bought else ''}{NOT_NEEDLESS}"


def bought_beside_eggs(plan: Plan) -> list[Item]:
    """Whites or yolks that are bought, in a plan that separates eggs for the other part."""
    if not any(job.supply.how is SupplyWay.SEPARATE for job in plan.jobs):
        return []
    parts = (item for item in plan.question.items if item.key in EGG_PARTS)
    return [item for item in parts if item.supply.how is SupplyWay.BUY]


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
    each = counted_as([item.ingredient for item in unpriced], currency)
    if len(unpriced) > MOST_UNPRICED:
        return f" ({len(unpriced)} things have no price and are counted as {each})"
    names = [item.ingredient.name for item in unpriced]
    be = "are" if _are_many(names) else "is"
    return f" ({without_price(names)} and {be} counted as {each})"


def counted_as(unpriced: Sequence[Ingredient], currency: str) -> str:
    """What things without a price are counted as: "10.00 EUR the litre or kilo"; eggs each."""
    by_piece = [item for item in unpriced if item.per == "ml" and item.loose]
    units = {"kilo" if item.per == "g" else "litre" for item in unpriced if item not in by_piece}
    each = listed(sorted(units, reverse=True), " or ")
    said = [f"{money_said(ASSUMED_PRICE * LITRE, currency)} the {each}"] if units else []
    sizes = {item.counted_in[0]: None for item in by_piece}
    said += [f"{money_said(ASSUMED_PRICE * size, currency)} the piece" for size in sizes]
    return " or ".join(said)


def without_price(names: Sequence[str]) -> str:
    """That things have no price."""
    return f"{listed(names)} {'have' if _are_many(names) else 'has'} no price"


def _are_many(names: Sequence[str]) -> bool:
    """Whether names are spoken of as many; "whole oranges" are, alone too."""
    first = names[0].partition(",")[0]
    return len(names) > 1 or (first.startswith("whole ") and first.endswith("s"))


def gap_said(stage: ProofStage | None) -> str:
    """How far from the best a stage may be."""
    if stage is not None and stage.proven:
        return " (proven)"
    if stage is None or stage.bound <= 0:
        return " (not proven)"
    return f" (to {max(0.1, 100 * stage.gap):.1f} %)"


def _remarks_on(item: Item, plan: Plan) -> Iterator[str]:
    """What was assumed of one thing."""
    name = item.ingredient.name
    if item.past is not None:
        yield f"{name} is past its last day ({item.past.use_by}), and not poured."
    if item.supply.assumed_size and any(o.ingredient.key == item.key for o in plan.orders):
        size, held = amount_said(item.supply.unit, item.ingredient), held_in(item.ingredient)
        yield f"How much a {held} of {name} holds is not known: taken as {size}."
    if item in bought_beside_eggs(plan):
        yield (
            f"{name} is bought, as the shelf lists it, and not taken of the eggs that are"
            " separated; without its price and supplier in shelf.csv it would be."
        )
    if item.undated:
        yield f"No date is known of {name}: taken as bought today. Look at the box."


def remarks(plan: Plan) -> list[str]:
    """What was assumed, and what is not poured."""
    said = [line for item in plan.question.items for line in _remarks_on(item, plan)]
    said += map(str, batches_said(plan))
    if any(job.vessel is not None and not job.vessel.fits for job in plan.jobs):
        said.append(NO_ROOM)
    if plan.question.nights.menu is None:
        said += _unshared(plan)
    # Juice that is pressed here is counted as its fruit, and a part of an egg as the egg.
    untold = [
        short_name(item.ingredient)
        for item in plan.question.items
        if item.untold and item.supply.how not in {SupplyWay.PRESS, SupplyWay.SEPARATE}
    ]
    if left_out := not_in_order(plan):
        said.append(f"For garnishes, and not in the order: {listed(left_out)}.")
    if untold:
        said.append(f"Not counted on the shelf, so taken as none: {listed(untold)}.")
    return said


def not_in_order(plan: Plan) -> list[str]:
    """What garnishes of drinks that are poured take and nobody counts, in words."""
    poured = {spec.name for night in plan.evenings for spec, count in night.drinks if count}
    drinks = (drink for drink in plan.question.drinks if drink.spec.name in poured)
    return [*dict.fromkeys(said for drink in drinks for said in drink.left_out)]


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
