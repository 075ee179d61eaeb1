"""The label of what the house makes, in the words of a language."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.show.pages.label import Label, caution_said, keep_cold_said
from solver.show.words import Words
from solver.show.words.phrase import Phrase
from solver.show.words.told import sentences, told_phrases
from solver.tasks.prep.prepare import Prep
from solver.tasks.prep.shelf_life import ALWAYS

_ALCOHOL_FROM_PCT = 1.2
"""Above it a drink's strength must be on its label: Regulation (EU) 1169/2011, article 9(1)(k)."""


def prep_label(prep: Prep, bar: Bar, words: Words) -> Label:
    """The label of a bottle of it: made on, use by, allergens and every caution."""
    made, use_by = words.day(prep.made), words.day(prep.use_by)
    dates = words.phrase("label", "dates", made=made, use_by=use_by)
    hazards = (each for each in prep.keeping.hazards if each != ALWAYS)
    cautions = dict.fromkeys((*prep.told.cautions, *prep.told.kitchen_cautions, *hazards))
    return Label(
        name=words.called(prep.recipe.dish.name),
        head=(dates, *_strength(prep, words)),
        told=(
            sentences(told_phrases(prep.told, words)),
            *(caution_said(each, words) for each in cautions),
        ),
        foot=(keep_cold_said(bar, words), words.phrase("label", "defers")),
    )


def _strength(prep: Prep, words: Words) -> tuple[Phrase, ...]:
    abv_pct = prep.figures.abv_pct.value
    if abv_pct <= _ALCOHOL_FROM_PCT:
        return ()
    which = "strength" if prep.measured else "strength_expected"
    return (words.phrase("label", which, abv=words.number(abv_pct, 1)),)
