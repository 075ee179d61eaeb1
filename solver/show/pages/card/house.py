"""A house recipe on a card, in few words: what goes in, what is done, how long it keeps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from solver.drinks.card import House
from solver.pantry.bar import Bar
from solver.pantry.recipe import RecipeStep
from solver.quantities import show_number
from solver.show.words import Words
from solver.show.words.phrase import Phrase, in_a_row


@dataclass(frozen=True)
class HouseWords:
    """A house ingredient: its recipe in two lines, how long it keeps, and what to look out for."""

    name: Phrase
    inputs: Phrase
    steps: Phrase
    keeping: str
    cautions: tuple[Phrase, ...]


def house_words(house: House, bar: Bar, words: Words) -> HouseWords:
    """What stands on a card of a house ingredient."""
    table = house.recipe.table if house.recipe else None
    named = house.recipe.named() if house.recipe else ()
    inputs = (
        Phrase.of(f"{words.amount(amount)} ") + _input(name, bar, words)
        for _, name, amount in named
    )
    steps = (_step(step, words) for step in (table.steps if table else ()))
    return HouseWords(
        name=words.called(house.ingredient.name),
        inputs=in_a_row(inputs, ", "),
        steps=in_a_row(steps, ", "),
        keeping="; ".join((*_yield(house, words), *_days(house, words))),
        cautions=tuple(words.called(each, "caution") for each in house.cautions),
    )


def _input(name: str, bar: Bar, words: Words) -> Phrase:
    """What goes into a recipe: as written there, where this language says so; else as the bar or
    the library calls it."""
    said = words.called(_plain(name))
    item = bar.bottles.get(name)
    return said if said.is_of_page or item is None else words.called(item.name).short


def _yield(house: House, words: Words) -> Iterator[str]:
    """What was measured of the last batch, else what is expected."""
    if house.recipe is None:
        return
    measured = house.recipe.table.measured
    said: Iterable[str] = filter(None, (measured.weight, measured.volume))
    if amounts := ", ".join(map(words.amount, said)):
        yield words.say("line", "yields", amount=amounts)
    elif house.expected_ml is not None:
        about = words.amount(f"{show_number(round(house.expected_ml, -1))} mL")
        yield words.say("line", "yields_about", amount=about)


def _days(house: House, words: Words) -> Iterator[str]:
    yield words.say("line", "keeps", days=words.number(house.days, 0))
    if house.use_by is not None:
        yield words.say("line", "use_by", date=words.day(house.use_by))


def _step(step: RecipeStep, words: Words) -> Phrase:
    """A step in a few words; what goes in stands with its amount among the inputs."""
    which = step.do
    if step.do == "simmer" and step.time is None:
        which = "simmer-off"
    if step.do == "steep" and step.time is None:
        which = "steep-long"
    return words.phrase(
        "cook",
        which,
        name=words.called(_plain(step.ingredient or "")),
        time=words.amount(step.time or ""),
        lost=words.amount(step.lost or ""),
        through=words.say("strainer", step.through) if step.through else "",
    )


def _plain(name: str) -> str:
    """A key as people say it."""
    return name.replace("-", " ")
