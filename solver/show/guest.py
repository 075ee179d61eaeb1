"""What a guest must be told, as lines and as fields."""

from __future__ import annotations

from typing import Any

from solver.tasks.guest import ForGuest

DEFERS = "Labels, local rules and licensed practice come before what is said here."


def guest_lines(guest: ForGuest) -> list[str]:
    """Standard drinks, allergens and cautions, one line each."""
    lines = [
        f"Standard drinks ({guest.jurisdiction}, {guest.standard_drink.g:g} g): "
        f"{guest.standard_drinks:.1f}",
        f"Allergens: {', '.join(guest.allergens) or 'none stated'}",
    ]
    if guest.may_contain:
        lines.append(f"May contain: {', '.join(guest.may_contain)}")
    if guest.allergens_not_known:
        lines.append(f"Allergens not known: {', '.join(guest.allergens_not_known)}")
    lines += [f"Caution: {caution}" for caution in guest.cautions]
    return [*lines, DEFERS]


def allergen_words(guest: ForGuest) -> list[str]:
    """The allergens of a drink in a line, as far as there are any or they are not known."""
    known = (*guest.allergens, *(f"may contain {each}" for each in guest.may_contain))
    words = [f"allergens: {', '.join(known)}"] if known else []
    if guest.allergens_not_known:
        words.append(f"allergens not known: {', '.join(guest.allergens_not_known)}")
    return words


def guest_fields(guest: ForGuest) -> dict[str, Any]:
    """The same for programs."""
    return {
        "standard_drinks": {
            "count": guest.standard_drinks,
            "jurisdiction": guest.jurisdiction,
            "ethanol_g_each": guest.standard_drink.g,
        },
        "allergens": list(guest.allergens),
        "may_contain": list(guest.may_contain),
        "allergens_not_known": list(guest.allergens_not_known),
        "cautions": list(guest.cautions),
    }
