"""What a guest must be told, as lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from solver.drinks.guest_notice import ForGuest
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked

DEFERS = "Labels, local rules and licensed practice come before what is said here."
MOST_NAMED = 5
"""Names that are listed one by one."""


def guest_lines(guest: ForGuest, drinks: str = "") -> list[str]:
    """Standard drinks, allergens, animal origin and cautions, one line each.

    `drinks` says how many there are where one number does not.
    """
    counted = drinks or f"{guest.standard_drinks:.1f}"
    lines = [
        f"Standard drinks ({guest.jurisdiction}, {guest.standard_drink.g:g} g): {counted}",
        *told_lines(guest.told),
    ]
    return [*lines, *caution_lines(guest), DEFERS]


def caution_lines(guest: ForGuest) -> list[str]:
    """What may hold alcohol, and every caution, one line each."""
    lines = [f"Caution: {caution}" for caution in guest.cautions]
    if guest.may_hold_alcohol:
        lines.insert(0, f"May hold alcohol: {', '.join(guest.may_hold_alcohol)}")
    return lines


def cautions_of(drinks: Iterable[tuple[str, ForGuest]]) -> list[tuple[str, list[str]]]:
    """What `caution_lines` says of some drinks by name, each once, with those it is said of."""
    return said_once((name, caution_lines(guest)) for name, guest in drinks)


def said_once(lines: Iterable[tuple[str, Iterable[str]]]) -> list[tuple[str, list[str]]]:
    """What is said of some by name, each once, with those it is said of."""
    of: dict[str, list[str]] = {}
    for name, said in lines:
        for line in said:
            of.setdefault(line, []).append(name)
    return list(of.items())


def day_line(bar: Bar) -> list[str]:
    """The day that bottles are dated against, where it is not that of the calendar."""
    return [f"Today is {bar.today}, as bar.toml says."] if bar.today_stated else []


def told_lines(told: Disclosure, allergens: str = "Allergens") -> list[str]:
    """Allergens, animal origin and what is to be declared; said even where there is nothing."""
    known = f"{allergens}: {_listed(told.allergens) or 'none stated'}"
    animal = f"Of animal origin: {_listed(told.animal) or 'none stated'}"
    also = (
        ("May contain", _listed(told.may_contain)),
        ("Allergens not known", ", ".join(told.allergens_not_known)),
    )
    animals = (
        ("May be of animal origin", _listed(told.may_animal)),
        ("Animal origin not known", ", ".join(told.animal_not_known)),
        ("Declare", _listed(told.declare)),
    )
    return [
        known,
        *(f"{name}: {words}" for name, words in also if words),
        animal,
        *(f"{name}: {words}" for name, words in animals if words),
    ]


def _listed(words: frozenset[str]) -> str:
    return ", ".join(sorted(words))


def told_words(told: Disclosure) -> list[str]:
    """The same in a few words, as far as there is anything to tell."""
    held = (*sorted(told.allergens), *(f"may contain {each}" for each in sorted(told.may_contain)))
    also = (
        ("allergens", held),
        ("allergens not known", told.allergens_not_known),
        ("of animal origin", sorted(told.animal)),
        ("may be of animal origin", sorted(told.may_animal)),
        ("animal origin not known", told.animal_not_known),
        ("declare", sorted(told.declare)),
    )
    return [f"{name}: {', '.join(words)}" for name, words in also if words]


def told_line(told: Disclosure) -> str:
    """The same in a line, of allergens even where there is nothing to tell."""
    said = told_words(told)
    if not any(each.startswith("allergens") for each in said):
        said.insert(0, "allergens: none stated")
    line = "; ".join(said)
    return f"{line[:1].upper()}{line[1:]}"


def avoided_lines(avoided: Sequence[Avoidance], bar: Bar) -> list[str]:
    """What a guest's words left out beyond themselves, and what nobody here can say."""
    return [line for each in avoided if (line := _avoided(each, bar))]


def _avoided(each: Avoidance, bar: Bar) -> str:
    stocked = {stocked.ingredient.key for stocked in bar.stock}
    names = [item.name for item in each.called if item.key in stocked]
    if len(names) > MOST_NAMED:
        names = [*names[: MOST_NAMED - 1], f"{len(names) - MOST_NAMED + 1} more"]
    said = []
    if more := [*each.says, *names]:
        said.append(f"Left out for '{each.word}': {', '.join(more)}.")
        if each.alone:
            said.append(f"For that alone, write 'only {each.alone}'.")
    if each.not_known:
        unknown = "; ".join(each.not_known)
        said.append(f"Not known here: {unknown}. Ask the guest, and go by local codes.")
    return " ".join(said)


def left_out_line(items: Sequence[Ingredient]) -> list[str]:
    """What is not offered for want of knowledge."""
    if not items:
        return []
    names = ", ".join(item.name for item in items)
    return [f"Left out, as too little is known of what they hold: {names}."]


def past_line(past: Sequence[Stocked]) -> list[str]:
    """What is not poured since its last day is over."""
    if not past:
        return []
    named = ", ".join(f"{row.ingredient.name} ({row.use_by})" for row in past)
    return [f"Past its last day, and not poured: {named}."]
