"""From what files say goes together, as written, to words that harmony knows."""

from __future__ import annotations

from collections.abc import Iterable

from solver.errors import BadInput, BadInputs
from solver.files.checked import FileReading, gather
from solver.files.near_words import near_words
from solver.harmony.taste import SaidOfIngredient
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.profile import Profile
from solver.pantry.vocabulary import CHARACTERS, KIND_FAMILIES, KINDS
from solver.printable import short
from solver.quantities import Measures, parse_pour

WORDS = ("goes_with", "not_with", "never")


def said_of(
    ingredients: Iterable[Ingredient], library: Library, measures: Measures
) -> dict[str, SaidOfIngredient]:
    """What the files say of some ingredients, by key; nothing of those of which they say nothing.

    Raises:
        BadInput, BadInputs: every word that nobody knows and every pour that can't be read, with
            its line.
    """
    found: dict[str, SaidOfIngredient] = {}
    mistakes: list[BadInput | BadInputs] = []
    for ingredient in ingredients:
        try:
            said = _said(ingredient, library, measures)
        except BadInput as error:
            mistakes.append(error)
        else:
            if said != SaidOfIngredient():
                found[ingredient.key] = said
    gather(mistakes)
    return found


def _said(ingredient: Ingredient, library: Library, measures: Measures) -> SaidOfIngredient:
    key = WORDS[0]
    try:
        words: dict[str, tuple[str, ...]] = {}
        for key in WORDS:
            words[key] = tuple(_word(text, library) for text in getattr(ingredient, key))
        key = "like"
        like = library.find(ingredient.like).key if ingredient.like else None
        key = "usual"
        usual = (
            ingredient.units(parse_pour(ingredient.usual, measures)) if ingredient.usual else None
        )
    except BadInput as error:
        raise error.at(error.where or ingredient.where(key)) from None
    return SaidOfIngredient(**words, like=like, usual_ml=usual)


def check_usual(profile: Profile, library: Library) -> None:
    """Check that everybody knows the words of what a profile calls usual.

    Raises:
        BadInput, BadInputs: every word that nobody knows, with its line.
    """
    reading = FileReading(profile)
    for part in profile.parts:
        for word in part.usual:
            reading.take(["parts", part.name, "usual", word], "", _word, word, library)
    for index, pair in enumerate(profile.usual.together if profile.usual else ()):
        for word in pair:
            reading.take(["usual", "together", index], "", _word, word, library)
    reading.finish()


def _word(text: str, library: Library) -> str:
    """A word as harmony knows it: the key of an ingredient, a kind, a family or a character."""
    plain = text.casefold()
    if text in library:
        return library.find(text).key
    if plain in (*KINDS, *KIND_FAMILIES, *CHARACTERS):
        return plain
    what = f"'{short(text)}' is no ingredient, no kind and no character"
    near = library.near(text) or near_words(plain, [*KINDS, *CHARACTERS])
    raise BadInput(what, near=near, remedy="See `equipour ingredients`.")
