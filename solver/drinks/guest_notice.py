"""What a guest must be told of a drink: of its pours, its garnish, its notes and its technique."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from solver.mixture.blend import Finished
from solver.pantry.bar import Bar
from solver.pantry.countries import StandardDrink
from solver.pantry.defaults import load_defaults
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
    """Allergens, cautions and alcohol of a drink, garnish and notes included.

    `standard_drinks` are those of the jurisdiction; `told` is the disclosure of everything in the
    drink. `cautions` are those of its contents and its technique; `of_stock` are those among them
    that only the bar needs, about bottles past their last day or not ready yet.
    """

    jurisdiction: str
    standard_drink: StandardDrink
    standard_drinks: float
    told: Disclosure
    cautions: tuple[str, ...]
    of_stock: tuple[str, ...] = ()

    @property
    def allergens(self) -> tuple[str, ...]:
        """Allergens that it contains for certain."""
        return tuple(sorted(self.told.allergens))

    @property
    def may_contain(self) -> tuple[str, ...]:
        """Allergens that it may contain."""
        return tuple(sorted(self.told.may_contain))

    @property
    def allergens_not_known(self) -> tuple[str, ...]:
        """Names of ingredients of which nobody has stated the allergens."""
        return self.told.allergens_not_known

    @property
    def may_hold_alcohol(self) -> tuple[str, ...]:
        """Names of ingredients that may hold some alcohol, in a drink that has none for certain."""
        return () if self.told.alcohol else self.told.may_hold_alcohol

    @property
    def served(self) -> ForGuest:
        """What is told away from the bar: without the age of the bar's bottles."""
        kept = tuple(each for each in self.cautions if each not in self.of_stock)
        return replace(self, cautions=kept, of_stock=())


def for_guest(
    poured: Sequence[Pour], finished: Finished, bar: Bar, technique: str,
    *, garnish: str | None = None, notes: str | None = None, steps: str = "",
) -> ForGuest:  # fmt: skip
    """Assemble the notice from the pours, the texts of a spec, and the alcohol in the glass."""
    drink = load_defaults().jurisdiction(bar.jurisdiction).standard_drink
    told = together(_parts(poured, bar, garnish, notes, steps))
    fizz, past = tuple(_fizz(poured, technique)), tuple(_past(poured, bar))
    return ForGuest(
        jurisdiction=bar.jurisdiction,
        standard_drink=drink,
        standard_drinks=float(finished.ethanol_g) / drink.g,
        told=told,
        cautions=tuple(dict.fromkeys((*fizz, *past, *_added(poured, bar, steps), *told.cautions))),
        of_stock=past,
    )


def _parts(
    poured: Iterable[Pour], bar: Bar, garnish: str | None, notes: str | None, steps: str
) -> Iterator[Disclosure]:
    for each in poured:
        yield bar.told_of(each.ingredient)
    if garnish:
        yield bar.mentions.garnish(garnish)
    if notes:
        yield bar.mentions.notes(notes)
    if steps:
        yield bar.mentions.steps(steps)
        yield bar.mentions.unknown_in_steps(steps)


def _added(poured: Sequence[Pour], bar: Bar, steps: str) -> Iterator[str]:
    """A caution about alcohol that steps name, and that no figure of the drink counts."""
    keys = {each.ingredient.key for each in poured}
    named = alcohol_in_steps(steps, bar, keys)
    if named:
        yield f"Strength and standard drinks are without what the steps add: {', '.join(named)}."


def alcohol_in_steps(steps: str, bar: Bar, poured: Collection[str]) -> tuple[str, ...]:
    """Names of what steps add beside what is `poured`, by key, and holds alcohol."""
    named = bar.mentions.steps(steps, poured).may_hold_alcohol if steps else ()
    items = ((name, bar.bottles.get(name)) for name in named)
    # A cherry may hold some; of what nobody knows, that is told of the drink in any case.
    return tuple(name for name, item in items if item is None or item.abv.value)


def _fizz(poured: Iterable[Pour], technique: str) -> Iterator[str]:
    """A caution about carbonated ingredients if the technique closes the vessel; else none."""
    names = [each.ingredient.name for each in poured if not each.top and is_fizzy(each.ingredient)]
    if names and technique in CLOSED:
        yield (
            f"Never close a shaker or a blender on what fizzes ({', '.join(names)}): it bursts "
            "open. Pour it on top, afterwards."
        )


def is_fizzy(item: Ingredient) -> bool:
    """Whether an ingredient is carbonated, by its kind or one of its names."""
    said = {word for name in (item.name, *item.aliases) for word in words(name)}
    return any(map(item.is_kind, FIZZY)) or not FIZZY_NAMES.isdisjoint(said)


def _past(poured: Iterable[Pour], bar: Bar) -> Iterator[str]:
    """A caution about ingredients of which all is past its last day, or not ready yet."""
    for each in poured:
        row = bar.past_row(each.ingredient.key)
        if row is not None:
            yield f"{each.ingredient.name} is past its day, {row.use_by}: open a fresh one."
        row = bar.waiting_row(each.ingredient.key)
        if row is not None:
            yield f"{each.ingredient.name} has to stand until {row.ready}: not poured before."
