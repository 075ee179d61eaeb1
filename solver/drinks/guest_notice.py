"""What a guest must be told of a drink: everything that is poured, and what is on and around it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from solver.mixture.blend import Finished
from solver.pantry.bar import Bar
from solver.pantry.defaults import StandardDrink, load_defaults
from solver.pantry.disclosure import Disclosure, together
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.word_forms import words

CLOSED = ("shake", "shake-egg", "shake-top", "blend")
"""Techniques that close the vessel."""
FIZZY = ("mixer", "wine/sparkling", "beer")
"""Kinds that fizz."""
FIZZY_NAMES = frozenset({"sparkling", "soda", "kombucha", "carbonated", "fizzy"})
"""Words in the name of what fizzes, of whatever kind it is."""


@dataclass(frozen=True)
class ForGuest:
    """`standard_drinks` are the jurisdiction's; `told` is of everything in the drink together.

    `cautions` are those of what is in it, and of the way it is made; `of_stock` are those among
    them that only the bar needs: what of its shelf must be opened anew.
    """

    jurisdiction: str
    standard_drink: StandardDrink
    standard_drinks: float
    told: Disclosure
    cautions: tuple[str, ...]
    of_stock: tuple[str, ...] = ()

    @property
    def allergens(self) -> tuple[str, ...]:
        """What it holds for certain."""
        return tuple(sorted(self.told.allergens))

    @property
    def may_contain(self) -> tuple[str, ...]:
        """What it may hold."""
        return tuple(sorted(self.told.may_contain))

    @property
    def allergens_not_known(self) -> tuple[str, ...]:
        """Ingredients, by name, of which nobody has said."""
        return self.told.allergens_not_known

    @property
    def may_hold_alcohol(self) -> tuple[str, ...]:
        """Ingredients, by name, that may hold a little, of a drink that has none for certain."""
        return () if self.told.alcohol else self.told.may_hold_alcohol


def for_guest(
    poured: Sequence[Pour], finished: Finished, bar: Bar, technique: str,
    *, garnish: str | None = None, notes: str | None = None,
) -> ForGuest:  # fmt: skip
    """Gather it from what is poured, the words of a spec, and the alcohol in the glass."""
    drink = load_defaults().jurisdiction(bar.jurisdiction).standard_drink
    told = together(_parts(poured, bar, garnish, notes))
    fizz, past = tuple(_fizz(poured, technique)), tuple(_past(poured, bar))
    return ForGuest(
        jurisdiction=bar.jurisdiction,
        standard_drink=drink,
        standard_drinks=float(finished.ethanol_g) / drink.g,
        told=told,
        cautions=tuple(dict.fromkeys((*fizz, *past, *told.cautions))),
        of_stock=past,
    )


def _parts(
    poured: Iterable[Pour], bar: Bar, garnish: str | None, notes: str | None
) -> Iterator[Disclosure]:
    for each in poured:
        yield bar.told_of(each.ingredient)
    if garnish:
        yield bar.mentions.garnish(garnish)
    if notes:
        yield bar.mentions.notes(notes)


def _fizz(poured: Iterable[Pour], technique: str) -> Iterator[str]:
    """What fizzes may not go into a closed vessel."""
    names = [each.ingredient.name for each in poured if not each.top and is_fizzy(each.ingredient)]
    if names and technique in CLOSED:
        yield (
            f"Never close a shaker or a blender on what fizzes ({', '.join(names)}): it bursts "
            "open. Pour it on top, afterwards."
        )


def is_fizzy(item: Ingredient) -> bool:
    """Whether it fizzes, by its kind or by one of its names."""
    said = {word for name in (item.name, *item.aliases) for word in words(name)}
    return any(map(item.is_kind, FIZZY)) or not FIZZY_NAMES.isdisjoint(said)


def _past(poured: Iterable[Pour], bar: Bar) -> Iterator[str]:
    """What the shelf has only past its day."""
    for each in poured:
        row = bar.past_row(each.ingredient.key)
        if row is not None:
            yield f"{each.ingredient.name} is past its day, {row.use_by}: open a fresh one."
