"""What a paper tells of allergens, animals and alcohol, in the words of its language."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from solver.pantry.disclosure import Disclosure
from solver.show.words import Words
from solver.show.words.phrase import Phrase, in_a_row

_OF_TEXT = re.compile(r"(garnish|steps) \((.+)\)")


def told_phrases(told: Disclosure, words: Words) -> tuple[Phrase, ...]:
    """Allergens, even where none are stated; then animal origin, what is to be declared, and
    alcohol that there may be."""
    allergens = (*_tagged("allergens", "allergen", told.allergens, words),
                 *_tagged("may_contain", "allergen", told.may_contain, words),
                 *_named("not_known", told.allergens_not_known, words))  # fmt: skip
    return (
        *(allergens or [words.phrase("line", "not_stated")]),
        *_tagged("animal", "animal", told.animal, words),
        *_tagged("may_animal", "animal", told.may_animal, words),
        *_tagged("declare", "declare", told.declare, words),
        *_named("animal_not_known", told.animal_not_known, words),
        *_named("may_hold_alcohol", () if told.alcohol else told.may_hold_alcohol, words),
    )


def sentences(lines: Iterable[Phrase], *first: Phrase) -> Phrase:
    """Lines as sentences one after the other, after what comes `first`."""
    return in_a_row([*first, *(line + "." for line in lines)], " ", " ")


def _tagged(line: str, table: str, tags: Iterable[str], words: Words) -> Iterator[Phrase]:
    """A line about tags, if there are any."""
    if said := [words.say(table, tag) for tag in sorted(tags)]:
        yield words.phrase("line", line, names=words.listed(said))


def _named(line: str, names: Iterable[str], words: Words) -> Iterator[Phrase]:
    """A line about ingredients by their names, if there are any."""
    if said := [_not_known(name, words) for name in names]:
        yield words.phrase("line", line, names=words.row(said))


def _not_known(name: str, words: Words) -> Phrase:
    """Something of which too little is known: an ingredient, or words of garnish or steps."""
    of_text = _OF_TEXT.fullmatch(name)
    if of_text is None:
        return words.called(name)
    said = words.called(of_text[2], "garnish")
    return words.phrase("line", f"of_{of_text[1]}", words=said)
