"""Words in any number, case or form, brought to one: "Almonds" and "almond-free" are almond."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from functools import lru_cache

Words = tuple[str, ...]
"""The words of a text in one form: lower case, singular, without accents."""

MOST_WORDS = 5
"""Words that the longest name of an ingredient has."""
KEPT = 8192
"""Texts whose forms are remembered: more than there are names, of which every bar asks them."""

_IRREGULAR = {
    "leaves": "leaf", "loaves": "loaf", "halves": "half", "calves": "calf", "knives": "knife",
    "octopi": "octopus", "children": "child", "babies": "baby", "brioches": "brioche",
    "cookies": "cookie", "brownies": "brownie", "smoothies": "smoothie", "veggies": "veggie",
    "whisky": "whiskey", "whiskies": "whiskey", "chili": "chilli", "chilies": "chilli",
    "chile": "chilli", "chillies": "chilli", "yogurt": "yoghurt", "yogurts": "yoghurt",
    "chickpeas": "chickpea", "dairies": "dairy", "teetotaller": "teetotal",
    "teetotaler": "teetotal",
}  # fmt: skip
"""Plurals and spellings that no rule tells."""
_AS_IT_IS = frozenset({"bitters", "molasses", "schnapps"})
"""Words that end like a plural and are none."""

_POSSESSIVE = re.compile(r"['’]s\b|['’](?=\s|$)")
_WORD = re.compile(r"[^\W_]+")
_BEFORE = frozenset({
    "a", "an", "any", "the", "i", "am", "is", "no", "not", "non", "without", "with", "avoid",
    "avoiding", "free", "from", "of", "to", "allergic", "allergy", "intolerant", "intolerance",
    "sensitive", "sensitivity", "strict", "strictly", "severe", "severely", "very",
    "ohne", "kein", "keine", "keinen", "gegen", "allergisch", "bin", "ich",
})  # fmt: skip
_AFTER = frozenset({
    "free", "allergy", "allergic", "allergen", "intolerance", "intolerant", "sensitive",
    "sensitivity", "diet", "guest", "disease", "person", "people",
    "frei", "allergie", "allergiker", "unvertraglichkeit", "unvertraeglichkeit",
})  # fmt: skip
"""What stands around the word itself, in the words of guests."""
_AROUND_BEFORE = re.compile(rf"^(?:(?:{'|'.join(_BEFORE)})[\s-]+)+", re.IGNORECASE)
_PLURALS = ("allergies", "intolerances", "sensitivities", "allergien")
_AROUND_AFTER = re.compile(rf"(?:[\s-]+(?:{'|'.join((*_AFTER, *_PLURALS))})|free)+$", re.IGNORECASE)
_PARTS = frozenset({
    "bark", "bean", "berry", "black", "blanched", "clove", "dried", "dry", "flesh", "flower",
    "fresh", "green", "ground", "juice", "leaf", "peel", "pod", "pulp", "puree", "raw", "red",
    "root", "sour", "sprig", "stalk", "stick", "tart", "toasted", "unsweetened", "white", "whole",
    "zest",
})  # fmt: skip
"""Which part or form of a plant a name means."""


_SPELLED_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "æ": "ae", "ø": "oe", "å": "aa"})


def without_accents(text: str) -> str:
    """A text in small letters without what stands above or below them."""
    letters = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in letters if not unicodedata.combining(c))


def spelled_out(text: str) -> str:
    """A text in small letters as it is written where there are no umlauts: ü as ue, ß as ss."""
    joined = unicodedata.normalize("NFC", text.casefold())
    return without_accents(joined.translate(_SPELLED_OUT))


@lru_cache(maxsize=KEPT)
def plain_spellings(text: str) -> frozenset[str]:
    """Both ways to write a text in plain letters: "Kürbis" is kurbis and kuerbis."""
    return frozenset((without_accents(text), spelled_out(text)))


def spelt_so(text: str, names: Iterable[str]) -> str | None:
    """The only one of some names that a text is in plain letters; None where none is, or several.

    "nebelkuerbis" and "nebelkurbis" are Nebelkürbis, "Creme" is crème.
    """
    asked = plain_spellings(text)
    found = [name for name in names if not asked.isdisjoint(plain_spellings(name))]
    return found[0] if len(found) == 1 else None


@lru_cache(maxsize=KEPT)
def words(text: str) -> Words:
    """The words of a text, in one form."""
    plain = text.casefold()
    if not plain.isascii():
        plain = without_accents(plain)
    found = _WORD.findall(_POSSESSIVE.sub("", plain))
    return tuple(singular(part) for word in found for part in _without_free(word))


def singular(word: str) -> str:
    """A word, lower case, without the ending of a regular plural.

    What is no plural may come out as no word at all: it does so wherever it stands.
    """
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) <= 3 or word in _AS_IT_IS or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return f"{word[:-3]}y"
    if word.endswith(("ches", "shes", "sses", "xes", "zes", "oes")):
        return word[:-2]
    return word.removesuffix("s")


def barer(found: Words) -> Iterator[Words]:
    """The words themselves, then with less and less around them: of "no nuts" also the nuts.

    Of "without nuts", "nut-free" and "allergic to nuts" the last is what is avoided.
    """
    yield found
    start, end = 0, len(found)
    while start < end - 1 and found[start] in _BEFORE:
        start += 1
        yield found[start:end]
    while end > start + 1 and found[end - 1] in _AFTER:
        end -= 1
        yield found[start:end]


def bare(text: str) -> str:
    """A text without what stands around the word itself: "dairy" of "no dairy"."""
    return _AROUND_AFTER.sub("", _AROUND_BEFORE.sub("", text)) or text


def part_of(found: Words) -> Words:
    """A name without the words that only say which part or form of a plant it is."""
    return tuple(word for word in found if word not in _PARTS)


def within(part: Words, whole: Words) -> bool:
    """Whether `part` stands in `whole`, word by word."""
    size = len(part)
    return size > 0 and any(whole[at : at + size] == part for at in range(len(whole) - size + 1))


def within_any(part: Words, wholes: Iterable[Words]) -> bool:
    """Whether `part` stands in one of several."""
    return any(within(part, whole) for whole in wholes)


def _without_free(word: str) -> tuple[str, ...]:
    """ "glutenfree" is two words."""
    split = len(word) > 6 and word.endswith("free")
    return (word[:-4], "free") if split else (word,)


def brief(name: str) -> str:
    """A name as it is called while working: without what follows a comma or is in brackets."""
    return " ".join(re.sub(r"\([^)]*\)", " ", name).partition(",")[0].split())
