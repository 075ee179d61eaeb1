"""Why a batch is not poured for its drink, and that one is by an older recipe.

Each function takes the `words` of a language: a terminal's are English, those of a paper what it
was asked for in.
"""

from __future__ import annotations

from solver.drinks.mixed_ahead import MixedAhead
from solver.pantry.disclosure import LESS
from solver.show.text.plan_words import ENGLISH
from solver.show.words import Words
from solver.show.words.phrase import Phrase
from solver.tasks.plan.answer import Plan

_TAGS = ("allergen", "animal", "declare")


def another_recipe(mixed: MixedAhead, words: Words = ENGLISH) -> Phrase:
    """Why a batch is another drink than its spec, and is not poured for it."""
    batch, drink = words.called(mixed.row.ingredient.name), mixed.spec.name
    if mixed.gone:
        gone = words.row(_gone(each, words) for each in mixed.gone)
        return words.phrase("plan", "contains_other", batch=batch, gone=gone, drink=drink)
    return words.phrase(
        "plan", "stronger" if mixed.stronger else "no_serve", batch=batch, drink=drink
    )


def _gone(said: str, words: Words) -> Phrase:
    """A word for guests, or the name of what a drink does not pour any more."""
    table = next((each for each in _TAGS if said in words.table[each]), None)
    if table is not None:
        return Phrase.of(words.say(table, said))
    return words.called(said, "gone" if said in LESS else "name")


def batches_said(plan: Plan, words: Words = ENGLISH) -> list[Phrase]:
    """What stands mixed and is not poured, or is by an older recipe."""
    older = [
        words.phrase("plan", "older", batch=words.called(item.ingredient.name))
        for item in plan.question.items
        if item.older
    ]
    aside = [
        words.phrase("plan", "set_aside", why=another_recipe(each, words))
        for each in plan.question.set_aside
    ]
    lost = [
        words.phrase("plan", "no_spec", batch=words.called(row.ingredient.name))
        for row in plan.question.of_no_spec
    ]
    return [*older, *aside, *lost]
