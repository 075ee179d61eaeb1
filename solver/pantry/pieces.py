"""What is counted and not measured: 8 mint leaves, a lime wedge, half a lime; and what each weighs.

Weights stand in `ingredients/yields/`; what an ingredient's own file says of one piece counts too.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from solver.errors import BadInput
from solver.files.checked import Key, Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.figure import Figure
from solver.pantry.folders import YIELDS
from solver.pantry.fruit import Ingredients, as_figure, fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.word_forms import MOST_WORDS, Words, part_of, singular, words
from solver.printable import short
from solver.quantities import WrittenAmount

WHOLE = "piece"
_COUNTS = {
    "half": 0.5, "pair": 2.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0,
}  # fmt: skip
_CUTS = {
    "twist": "peel", "zest": "peel", "swath": "peel", "swathe": "peel", "strip": "peel",
    "disc": "peel", "coin": "peel", "moon": "wheel", "grated": "grating", "quill": "stick",
    "star": "pod", "bean": "pod", "knob": "thumb", "frond": "leaf", "bunch": "bouquet",
    "rimmed": "rim",
}  # fmt: skip
"""Other words for a cut."""


_GROWN = ("stick", "pod", "berry", "clove", "stalk")
"""What one whole piece is called of what is not simply a piece."""


@dataclass(frozen=True)
class Counted:
    """So many pieces of an ingredient: `cut` is the word for one, `each` its size in mL or g.

    `said` says that the cut is among the words; `rest` are words that are neither its name nor its
    cut nor a number.
    """

    key: str
    count: float
    cut: str
    each: float
    said: bool
    rest: Words


class Pieces:
    """What is counted of a library, and what one of it is, in the ingredient's own unit."""

    def __init__(self, library: Ingredients) -> None:
        self._library = library
        self._fruit = fruit_by_juice(library)
        self._cuts: dict[str, Mapping[str, Figure]] = {}
        self._named: dict[Words, str] = {}
        for fruit in self._fruit.values():
            of_one = {cut: _share(fruit.weight, count) for cut, count in fruit.cuts.items()}
            self._add(fruit.key, {WHOLE: fruit.weight, **of_one})
        for key, cuts in _written().items():
            self._add(key, cuts)
        for item in library:
            if item.piece and item.key not in self._cuts:
                self._add(item.key, {WHOLE: item.piece})

    def _add(self, key: str, cuts: Mapping[str, Figure]) -> None:
        item = self._library.get(key)
        if item is None:
            return
        self._cuts[key] = cuts
        for name in (item.key, item.name, *item.aliases):
            said = words(name)
            for form in {said, part_of(said)} - {()}:
                self._named.setdefault(form, key)

    def _named_in(self, said: Words) -> tuple[str, Words] | None:
        """The key of the longest name of something counted in some words, and the other words."""
        for size in range(min(MOST_WORDS, len(said)), 0, -1):
            for at in range(len(said) - size + 1):
                if said[at : at + size] in self._named:
                    return self._named[said[at : at + size]], said[:at] + said[at + size :]
        return None

    def counted(self, said: Words) -> Counted | None:
        """How many of what some words count: a cut that nobody says is the first that is known."""
        found = self._named_in(said)
        if found is None:
            return None
        key, others = found
        cuts = self._cuts[key]
        asked = (_CUTS.get(word, word) for word in said)
        named = next((cut for cut in asked if cut in cuts), None)
        cut = named or next(iter(cuts))
        count, rest = 1.0, []
        for word in others:
            if word.isdecimal() or (word in _COUNTS and word != cut):
                count *= float(word) if word.isdecimal() else _COUNTS[word]
            elif _CUTS.get(word, word) != cut:
                rest.append(word)
        return Counted(key, count, cut, cuts[cut].value, named is not None, tuple(rest))

    def poured(self, item: Ingredient, pour: WrittenAmount) -> tuple[Ingredient, float]:
        """What is poured, and how much in its own unit: mL, or g of what is weighed.

        Pieces of a juice are pieces of its fruit, which is then called by one of it.

        Raises:
            BadInput: it is nothing, or cannot be measured that way.
        """
        if pour.value <= 0:
            raise BadInput(f"'{short(pour.said)}' pours nothing", remedy="Leave the pour out.")
        if pour.unit != "piece":
            return item, item.units(pour)
        if not pour.cut and item.piece is not None:
            return _called_by_one(item), item.units(pour)
        fruit = self._fruit.get(item.key)
        key = fruit.key if fruit and item.key not in self._cuts else item.key
        each = self._one(key, pour.cut)
        if each is None:
            return item, item.units(pour)  # which says why not
        found = fruit.ingredient if fruit and key == fruit.key else item
        return _called_by_one(found), pour.value * each.value

    def one(self, item: Ingredient, pour: WrittenAmount) -> Figure | None:
        """What one of the pieces of a pour is, in the ingredient's own unit; None where nobody has
        said, and of what is measured.
        """
        if pour.unit != "piece":
            return None
        return item.piece if item.piece and not pour.cut else self._one(item.key, pour.cut)

    def _one(self, key: str, cut: str) -> Figure | None:
        cuts = self._cuts.get(key, {})
        names = (cut, _CUTS.get(cut, cut)) if cut else (WHOLE, *_GROWN)
        return next((cuts[name] for name in names if name in cuts), None)


def _called_by_one(item: Ingredient) -> Ingredient:
    """A whole fruit by the name of one of it: "lime", and not "whole limes"."""
    if not item.name.startswith("whole "):
        return item
    *before, last = item.name.removeprefix("whole ").split()
    return item.model_copy(update={"name": " ".join([*before, singular(last)])})


@cache
def _written() -> Mapping[str, Mapping[str, Figure]]:
    """The built-in weights of pieces, g, by ingredient and cut."""
    found: dict[str, Mapping[str, Figure]] = {}
    for name in ("garnish.toml", "kitchen.toml"):
        file = read_toml(YIELDS / name)
        tables = {
            key: {cut: as_figure(figure, "g") for cut, figure in cuts.items()}
            for key, cuts in file.data.items()
        }
        for key, cuts in check(_Written, {"of": tables}, file).of.items():
            found[key] = {**found.get(key, {}), **cuts}
    return found


def _share(whole: Figure, count: int) -> Figure:
    """One of the pieces that something whole is cut into."""
    ends = {"low": whole.low, "high": whole.high}
    cut = {name: None if end is None else end / count for name, end in ends.items()}
    return whole.model_copy(update={"value": whole.value / count, **cut})


class _Written(Model):
    """What a file of the weights of pieces holds."""

    of: Mapping[Key, Mapping[Text, Figure]]
