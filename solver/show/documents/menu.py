"""A menu, or why there is none."""

from __future__ import annotations

from typing import Any

from solver.pantry.bar import Bar
from solver.show.documents.contract import document
from solver.show.documents.guest import guest_fields
from solver.show.documents.plan import (
    batch_fields,
    ending_fields,
    order_fields,
    refusal_fields,
    stage_fields,
)
from solver.show.text import menu_words as words
from solver.show.text.pours import said_amount
from solver.tasks.menu.answer import Menu, MenuAnswer, NoMenu, Offer
from solver.tasks.menu.nearly_for_guest import Nearly
from solver.tasks.plan.answer import Refusal


def menu_json(found: MenuAnswer, bar: Bar) -> str:
    """All of the answer."""
    return document("menu", menu_fields(found, bar))


def menu_fields(found: MenuAnswer, bar: Bar) -> dict[str, Any]:
    """All of the answer, as a document has it."""
    match found:
        case Menu():
            fields, seconds = _menu(found, bar), found.plan.seconds
        case NoMenu(found=Refusal() as refusal):
            fields, seconds = refusal_fields(refusal), refusal.seconds
            fields["nearly"] = [_nearly(near) for near in found.nearly]
            if found.cut:  # what was not designed might do
                fields["status"] = "stopped"
        case NoMenu():
            fields, seconds = {"status": "stopped"}, found.found.seconds
    return {
        **fields,
        "compared": found.compared,
        "designed": found.designed,
        "designing_cut": found.cut,
        "misread": [{"file": each.path.name, "says": str(each.error)} for each in found.misread],
        "currency": bar.currency,
        "seconds": round(seconds, 3),
    }


def _nearly(near: Nearly) -> dict[str, Any]:
    return {
        "guest": near.guest.word,
        "spec": near.drink,
        "reasons": [words.reason_said(reason) for reason in near.reasons],
    }


def _menu(menu: Menu, bar: Bar) -> dict[str, Any]:
    plan = menu.plan
    return {
        "status": "chosen" if plan.proven else "not proven",
        "menu": [_offer(offer, menu, bar) for offer in menu.offers],
        **batch_fields(plan),
        "order": [order_fields(order) for order in plan.orders],
        "order_cost": plan.cost,
        "pouring_cost": menu.poured_cost,
        "spoils": [ending_fields(ending) for ending in plan.endings],
        "dated_after": [ending_fields(ending) for ending in plan.later],
        "poured_by_none": [row.ingredient.key for row in menu.idle],
        "asked_for_in_none": [
            {
                "ingredient": each.ingredient.key,
                "ready": None if each.ready is None else str(each.ready),
            }
            for each in menu.unshown
        ],
        "below_margin": [each.spec.name for each in menu.dear],
        "counted_without_price": [item.key for item in plan.unpriced],
        "held_back": None
        if menu.held_back is None
        else [
            {
                "without": each.demand,
                "lost_change": each.loss,
                "spoils_change": each.waste,
                "pouring_change": each.pouring,
            }
            for each in menu.held_back
        ],
        "proof": [stage_fields(stage) for stage in plan.stages],
    }


def _offer(offer: Offer, menu: Menu, bar: Bar) -> dict[str, Any]:
    drink, made = offer.drink, offer.drink.cost.made
    nights = zip(menu.plan.evenings, offer.nights, strict=True)
    return {
        "spec": drink.spec.name,
        "new": drink.new is not None,
        "profile": drink.spec.profile,
        "serves": offer.serves,
        "nights": [{"date": str(evening.day), "serves": count} for evening, count in nights],
        "price": drink.asking.price if drink.asking else None,
        "cost": drink.cost.total,
        "margin_pct": 100 * drink.asking.margin if drink.asking else None,
        "technique": made.technique,
        "glass": made.glass,
        "pours": [
            {
                "ingredient": line.ingredient.key,
                "amount": said_amount(line, bar),
                line.ingredient.per: line.amount,
            }
            for line in made.lines
        ],
        "uses": [{"ingredient": item.key, item.per: amount} for item, amount in offer.uses],
        "suits": [guest.word for guest in menu.wish.guests if drink.suits(guest)],
        **guest_fields(drink.guest),
    }
