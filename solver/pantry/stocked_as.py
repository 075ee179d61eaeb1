"""What stands on a shelf by a name: twenty limes are fruit, a litre of lime is its juice."""

from __future__ import annotations

from collections.abc import Iterable

from solver.errors import BadInput
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library
from solver.pantry.word_forms import words
from solver.quantities import in_digits, split_count
from solver.quantities.units import MASS, find_unit

ONE = "1 piece"
_PRESSED = frozenset({"juice", "puree"})
"""Words of a name that say that it is poured."""
_BREWED = frozenset({"brew", "brewed"})


def stocked_as(name: str, amounts: Iterable[str], library: Library) -> Ingredient | None:
    """What a shelf, a list or a delivery means by a name; None where it is not known.

    A name that a juice shares with its fruit is the fruit where it is counted or weighed, or in the
    plural where nothing is measured; one that a brew shares with what it is brewed of is that where
    it is weighed. `amounts` are the size and what is on hand, as written.
    """
    item = library.get(name)
    if item is None:
        return None
    said = [text for text in amounts if text.strip() and text.strip() != "0"]
    if item.is_kind("brew"):
        return _brewed_of(item, name, said, library)
    if not item.is_kind("juice"):
        return item
    fruit = fruit_by_juice(library).get(item.key)
    if fruit is None:
        return item
    if any(map(counts_pieces, said)):
        return fruit.ingredient
    if _is_pressed(name):
        return item
    if any(map(_is_weight, said)):
        return fruit.ingredient
    counted = all(map(is_bare, said)) if said else _is_plural(name)
    return fruit.ingredient if counted else item


def _is_pressed(name: str) -> bool:
    found = words(name)
    return bool(_PRESSED.intersection(found)) or any(word.endswith("saft") for word in found)


def _brewed_of(item: Ingredient, name: str, said: list[str], library: Library) -> Ingredient:
    """The leaves or beans of a brew where the amounts weigh it and its name says no brew."""
    if _BREWED.intersection(words(name)) or not any(map(_is_weight, said)):
        return item
    dry = library.get(item.made_of[0]) if item.made_of else None
    return item if dry is None else dry


def in_ounces_of_weight(text: str, item: Ingredient) -> bool:
    """Whether an amount in plain ounces is of weight, as on the label of a jar of honey."""
    taken = _taken(text)
    unit = find_unit(taken[1]) if taken else None
    return unit is not None and unit.name == "ounce" and item.sold_by == "weight"


def _is_weight(text: str) -> bool:
    taken = _taken(text)
    unit = find_unit(taken[1]) if taken else None
    return unit is not None and unit.dimension == MASS


def by_the_piece(item: Ingredient, library: Library) -> bool:
    """Whether it is bought and counted by the piece where nobody says otherwise: fruit and eggs."""
    if item.piece is None:
        return False
    fruit = {each.key for each in fruit_by_juice(library).values()}
    return item.is_kind("egg") or item.key in fruit


def counts_pieces(text: str) -> bool:
    """Whether an amount counts pieces: "12 pieces", "1 ea", "2 dozen", or "each" alone."""
    text = in_digits(text)
    taken = _taken(text)
    unit = find_unit(taken[1] if taken else text)
    return unit is not None and unit.name == "piece"


def is_bare(text: str) -> bool:
    """Whether an amount is a number without a unit."""
    taken = _taken(text)
    return taken is not None and not taken[1]


def is_one(text: str) -> bool:
    """Whether what counts pieces is one: "1 pc", or "each" alone."""
    taken = _taken(text)
    return taken is None or taken[0] == "1"


def size_of_one(text: str) -> str:
    """A size as a shelf reads it: "each" is one piece."""
    return ONE if counts_pieces(text) and _taken(text) is None else text


def pieces(number: str) -> str:
    """So many pieces as a shelf has them; `number` is written with a point or a comma."""
    plain = number.replace(",", ".")
    return ONE if plain == "1" else f"{plain} pieces"


def _taken(text: str) -> tuple[str, str] | None:
    """The number of an amount and the rest; None for what is none, of which its reader says why."""
    try:
        return split_count(text)
    except BadInput:
        return None


def _is_plural(name: str) -> bool:
    last = name.casefold().split()[-1:]
    return bool(last) and words(last[0]) != tuple(last)
