"""The words of a menu that its text and its tables share."""

from __future__ import annotations

from datetime import date

from solver.night.best_plan import GIVEN_UP, NightAim, ProofStage
from solver.pantry.avoidance import Against
from solver.pantry.bar import Bar
from solver.quantities import show_number
from solver.show.text import plan_proof
from solver.show.text import plan_words as words
from solver.show.text.pours import said_amount
from solver.show.words.names_in_a_row import listed, short_name
from solver.tasks.menu.answer import Menu, NoMenu, Offer, Unshown
from solver.tasks.menu.nearly_for_guest import Nearly, SpeaksAgainst

AIMS = {
    NightAim.LOSS: plan_proof.AIMS[NightAim.LOSS],
    NightAim.WASTE: plan_proof.AIMS[NightAim.WASTE],
    NightAim.COST: "buys for the least",
    NightAim.POURING: "costs the least to pour",
    NightAim.SAMENESS: "has the most sorts and changes least",
}


def nights_of(offer: Offer, menu: Menu) -> tuple[date, date]:
    """Its first night on the menu, and its last."""
    days = [e.day for e, n in zip(menu.plan.evenings, offer.nights, strict=True) if n]
    return days[0], days[-1]


def when_said(offer: Offer, menu: Menu) -> str:
    """When it is on: "until Tue 2026-05-12"; empty where it is on every night."""
    first, last = nights_of(offer, menu)
    all_ = [evening.day for evening in menu.plan.evenings if evening.count]
    if (first, last) == (all_[0], all_[-1]):
        return ""
    if first == last:
        return words.day_said(first)
    if first == all_[0]:
        return f"until {words.day_said(last)}"
    if last == all_[-1]:
        return f"from {words.day_said(first)}"
    return f"{words.day_said(first)} to {words.day_said(last)}"


def pours_said(offer: Offer, bar: Bar) -> str:
    """Its pours: "2 oz gin, 3/4 oz lime juice"."""
    lines = offer.drink.cost.made.lines
    return ", ".join(f"{said_amount(line, bar)} {short_name(line.ingredient)}" for line in lines)


def uses_said(offer: Offer) -> str:
    """What it takes of what is dated, all serves together."""
    told = sorted(offer.uses, key=lambda use: -use[1])
    return listed(f"{words.amount_said(amount, item)} {short_name(item)}" for item, amount in told)


def compared_said(drinks: int, designed: int) -> str:
    """What menus were made of: so many drinks, some of them new."""
    if drinks == 1:
        return "the one drink there is"
    return f"these {drinks} drinks{f', {designed} of them new' if designed else ''}"


def too_few_said(no: NoMenu) -> str:
    """That there are too few drinks for a night, and what would help."""
    most = show_number(no.wish.share.high / 100)
    those = f"{no.compared} drinks" if no.compared > 1 else "One drink"
    none = "do not fill a night, at most" if no.compared > 1 else "does not fill a night, at most"
    return (
        f"{those} {none} {most} % of it each. More specs would, new drinks (--of NAME), or a "
        f"larger --share."
    )


def proof_said(menu: Menu, currency: str) -> list[str]:
    """How far the menu is proven to be the best, and of what."""
    plan = menu.plan
    those = compared_said(menu.compared, menu.designed)
    of = f"Of all menus of {those}, {plan_proof.compared(plan)}, this one"
    reached = {stage.aim: stage for stage in plan.stages}
    said: list[str] = []
    for aim in plan.aims:
        money = aim in {NightAim.LOSS, NightAim.COST}
        assumed = plan_proof.assumed_said(plan, currency) if money else ""
        said.append(f"{AIMS[aim]}{assumed}{_gap(aim, reached.get(aim))}")
    proven = "Proven by CP-SAT and HiGHS, " if plan.proven else ""
    if not plan.proven:
        known = min(plan_proof.known_aims(plan), len(said) - 1)
        said[known] = f"nearly {said[known]}"
    best = f"{of} {', then '.join(said)}. {proven}{plan.seconds:.2f} s."
    return [best] if plan.proven else [best, *plan_proof.lost_said(plan, currency, "menu")]


def _gap(aim: NightAim, stage: ProofStage | None) -> str:
    """How far from the best a stage may be, where it is not the best."""
    if stage is None or (aim is NightAim.SAMENESS and not stage.proven):
        return " (not proven)"
    if aim in GIVEN_UP and stage.proven:
        return f" (to {100 * GIVEN_UP[aim]:.0f} %)"
    return "" if stage.proven else plan_proof.gap_said(stage)


def unshown_said(unshown: Unshown) -> str:
    """What was asked for and is in no drink, and until when it has to stand, if it has."""
    why = (
        "" if unshown.ready is None else f": it has to stand until {words.day_said(unshown.ready)}"
    )
    return f"No drink here pours {short_name(unshown.ingredient)}, as asked{why}."


def nearly_said(near: Nearly) -> str:
    """Why a drink does not quite do: "Zero Tide may hold alcohol: cider vinegar"."""
    return f"{near.drink} {'; '.join(reason_said(each) for each in near.reasons)}"


def reason_said(reason: SpeaksAgainst) -> str:
    """What speaks against a drink for one thing that a guest avoids, after the drink's name."""
    names, avoided = listed(reason.names), reason.avoided
    what = avoided.thing or f'what is not "{avoided.word}"'
    match reason.against:
        case Against.HOLDS:
            return f"holds {what}: {names}"
        case Against.MAY_HOLD:
            return f"may hold {what}: {names}"
        case Against.NOT_KNOWN:
            return f'is not known to be right for "{avoided.word}": {names}'
