"""The label of what the house makes, in the words of a language."""

from __future__ import annotations

from collections.abc import Iterable

from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.show.pages.label import Label, caution_said, keep_cold_said
from solver.show.words import Words
from solver.show.words.guest_words_on_paper import sentences, told_phrases
from solver.show.words.phrase import Phrase
from solver.tasks.prep.prepare import Prep
from solver.tasks.prep.shelf_life import ALWAYS, RAW_EGG

_ALCOHOL_FROM_PCT = 1.2
"""Above it a drink's strength must be on its label: Regulation (EU) 1169/2011, article 9(1)(k)."""


def prep_label(prep: Prep, bar: Bar, words: Words) -> Label:
    """The label of a bottle of it: made on, use by, allergens and every caution."""
    made, use_by = words.day(prep.made), words.day(prep.use_by)
    dates = words.phrase("label", "dates", made=made, use_by=use_by)
    strength = strength_said(prep.figures.abv_pct.value, words, measured=prep.measured)
    name = words.called(prep.recipe.dish.name)
    return house_label(
        name, (dates, *strength), prep.told, prep.keeping.hazards, bar=bar, words=words
    )


def house_label(
    name: Phrase, head: tuple[Phrase, ...], told: Disclosure, hazards: Iterable[str],
    *, bar: Bar, words: Words,
) -> Label:  # fmt: skip
    """The label of whatever the house makes, before or after it is made.

    `head` is what stands under its name; `hazards` are those of how it keeps.
    """
    own = {said for item in bar.library if item.is_kind("egg") for said in item.cautions}
    # An egg's own caution says that it is raw, and more.
    said = {ALWAYS} if own.isdisjoint(told.cautions) else {ALWAYS, RAW_EGG}
    hazards = (each for each in hazards if each not in said)
    cautions = dict.fromkeys((*told.cautions, *told.kitchen_cautions, *hazards))
    return Label(
        name=name,
        head=head,
        told=(
            sentences(told_phrases(told, words)),
            *(caution_said(each, words) for each in cautions),
        ),
        foot=(keep_cold_said(bar, words), words.phrase("label", "defers")),
    )


def strength_said(abv_pct: float, words: Words, *, measured: bool) -> tuple[Phrase, ...]:
    """Its strength, % vol; nothing where no label needs to say it."""
    if abv_pct <= _ALCOHOL_FROM_PCT:
        return ()
    which = "strength" if measured else "strength_expected"
    return (words.phrase("label", which, abv=words.number(abv_pct, 1)),)
