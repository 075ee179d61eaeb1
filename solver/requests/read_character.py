"""Characters of a drink: how a wish for one is read."""

from __future__ import annotations

import re
from collections.abc import Iterable

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.measures import Measure, character_measure
from solver.pantry.ingredient import Ingredient
from solver.pantry.vocabulary import CHARACTERS
from solver.printable import short
from solver.quantities import Span, parse_span

EXAMPLES = 'Write it like smoke, "smoke 0.5..1", "nut or honey >=1" or "no smoke"'
_ASKED = re.compile(r"(?P<none>no\s+)?(?P<names>[^\d.<>=≤≥½¼¾⅓⅔⅛⅜⅝⅞]*)(?P<range>.*)", re.DOTALL)
_OR = re.compile(r"\s*(?:,\s*or\b|,|/|\bor\b)\s*")


def read_character(text: str) -> tuple[Measure, Span | None]:
    """What a wish for a character names, and how loud it is to be; None where any of it will do.

    Several are one character that any of them makes: "nut or honey >=1".

    Raises:
        BadInput: a character is not known, or how loud it is to be can't be read.
    """
    asked = _ASKED.fullmatch(text.strip().casefold())
    names, said = (asked["names"].strip(), asked["range"].strip()) if asked else ("", "")
    tags = [_tag(name, text) for name in _OR.split(names)]
    measure = character_measure([tag for tag in CHARACTERS if tag in tags])
    if asked and asked["none"]:
        if said:
            what = f"'{short(text)}' says both none of it and how much"
            raise BadInput(what, remedy=f"{EXAMPLES}.")
        return measure, Span(high=0.0)
    span = parse_span(said, measure.quantity) if said else None
    return measure, Span(high=0.0) if span == Span(aim=0.0) else span


def _tag(name: str, text: str) -> str:
    tag = "-".join(name.split())
    if tag not in CHARACTERS:
        what = f"'{short(name)}' is not a character known here" if name else "no character is named"
        why = f"it was asked for as '{short(text)}'" if name != text else ""
        near = near_words(tag, CHARACTERS)
        known = "" if near else f" Known: {', '.join(CHARACTERS)}."
        raise BadInput(what, why=why, near=near, remedy=f"{EXAMPLES}.{known}")
    return tag


def tastes_of(item: Ingredient, tags: Iterable[str]) -> bool:
    """Whether an ingredient has any of some characters."""
    return not set(tags).isdisjoint(item.character)
