"""What the papers of a plan tell, its page and its workbook, in the words of a language."""

from __future__ import annotations

from solver.drinks.guest_notice import ForGuest
from solver.night.best_plan import NightAim
from solver.pantry.bar import Bar
from solver.show.pages.label import Label, caution_said
from solver.show.pages.prep_label import house_label, strength_said
from solver.show.text.guest import said_once
from solver.show.text.plan_proof import bought_beside_eggs, not_in_order
from solver.show.text.plan_words import LITRE, amount_said, day_said, money_said
from solver.show.words import Words
from solver.show.words.guest_words_on_paper import sentences, told_phrases
from solver.show.words.phrase import Phrase, in_a_row
from solver.tasks.plan.answer import Job, Plan
from solver.tasks.plan.items import ASSUMED_PRICE
from solver.tasks.plan.plan_notice import JobNotice
from solver.tasks.plan.ticks import MONEY


def drinks_told(plan: Plan, words: Words) -> list[tuple[str, Phrase]]:
    """Every drink that is poured, with its allergens."""
    return [(name, sentences(told_phrases(guest.told, words))) for name, guest in plan.told.drinks]


def drink_told(guest: ForGuest, words: Words) -> Phrase:
    """All that is told of one drink."""
    cautions = (caution_said(text, words) for text in guest.cautions)
    return in_a_row([sentences(told_phrases(guest.told, words)), *cautions], " ", " ")


def drinks_cautions(plan: Plan, words: Words) -> list[tuple[str, Phrase]]:
    """The names of drinks, and a caution that holds for them; each is said once."""
    cautions = said_once((name, guest.cautions) for name, guest in plan.told.drinks)
    return [(words.listed(names), caution_said(text, words)) for text, names in cautions]


def wash_said(notice: JobNotice, words: Words) -> list[Phrase]:
    """What the vessel of a job is to be washed of, if it is."""
    if notice.wash is None:
        return []
    held = ", ".join(words.say("allergen", tag) for tag in notice.wash.allergens)
    return [words.phrase("plan", "wash", name=words.called(notice.wash.name), held=held)]


def job_told(notice: JobNotice, words: Words) -> list[Phrase]:
    """What is made: its allergens, and its cautions a line each."""
    told = told_phrases(notice.told, words)
    nothing = told == (words.phrase("line", "not_stated"),)
    return [*([] if nothing else [sentences(told)]), *_job_cautions(notice, words)]


def _job_cautions(notice: JobNotice, words: Words) -> list[Phrase]:
    cautions = (*notice.told.cautions, *notice.told.kitchen_cautions)
    return [caution_said(text, words) for text in cautions]


def labels(plan: Plan, bar: Bar, words: Words) -> list[Label]:
    """One for each thing that is made."""
    pairs = zip(plan.jobs, plan.told.jobs, strict=True)
    return [_label(job, notice, bar, words) for job, notice in pairs]


def _label(job: Job, notice: JobNotice, bar: Bar, words: Words) -> Label:
    ready = day_said(job.ready, words)
    if job.use_by is None:
        dates = words.phrase("label", "ready_no_date", ready=ready)
    else:
        dates = words.phrase("label", "ready", ready=ready, use_by=day_said(job.use_by, words))
    amount = amount_said(job.amount, job.ingredient, words)
    head = (dates, words.phrase("label", "amount", amount=amount), *job_strength(job, words))
    name = words.called(job.ingredient.name)
    return house_label(name, head, notice.told, notice.hazards, bar=bar, words=words)


def job_strength(job: Job, words: Words) -> tuple[Phrase, ...]:
    """The strength of what is made, by its recipe if there is one."""
    prep = job.supply.prep
    abv_pct = job.ingredient.abv.value if prep is None else prep.figures.abv_pct.value
    return strength_said(abv_pct, words, measured=prep is not None and prep.measured)


def assumed_said(plan: Plan, words: Words) -> list[Phrase]:
    """What was assumed of eggs, and what is ordered nowhere."""
    undated = [item for item in plan.question.items if item.undated]
    of = (("undated_eggs", undated), ("egg_part_bought", bought_beside_eggs(plan)))
    said = [
        words.phrase("plan", which, name=words.called(item.ingredient.name))
        for which, items in of
        for item in items
    ]
    if left_out := not_in_order(plan):
        names = words.row(map(words.called, left_out))
        said.append(words.phrase("plan", "not_in_order", names=names))
    return said


def proof_said(plan: Plan, currency: str, words: Words) -> list[Phrase]:
    """Whether a better plan is possible, how much better it could be, and by which prices."""
    bought = bought_beside_eggs(plan)
    buying = words.row(words.called(item.ingredient.name) for item in bought)
    which = ("proven_buying" if bought else "proven") if plan.proven else "not_proven"
    said = [words.phrase("plan", which, names=buying), *assumed_said(plan, words)]
    for stage in () if plan.proven else plan.stages:
        if stage.aim is NightAim.LOSS:
            value, bound = (
                money_said(of / MONEY, currency, words) for of in (stage.value, stage.bound)
            )
            said.append(words.phrase("plan", "lost", value=value, bound=bound))
    if names := [words.called(item.ingredient.name) for item in plan.question.unpriced]:
        price = money_said(LITRE * ASSUMED_PRICE, currency, words)
        said.append(words.phrase("plan", "unpriced", price=price, names=words.row(names)))
    return said
