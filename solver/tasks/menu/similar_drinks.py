"""Drinks that a guest would not tell apart: same base, same sour, same featured ingredient."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from solver.pantry.ingredient import Ingredient
from solver.tasks.menu.candidates import MenuCandidate, positions_of_equal

_SWEET = ("syrup", "sugar", "liqueur")
_SOUR = ("juice/sour", "acid")


def groups_of_similar(drinks: Sequence[MenuCandidate]) -> list[frozenset[int]]:
    """Groups of positions of which at most one drink may be offered.

    New drinks that look alike, or that are of one profile and show the same; and each drink of the
    book with new ones like it. Two drinks of the book may both be offered, as the bar has them.
    """
    groups: dict[Hashable, set[int]] = {}
    for at, drink in enumerate(drinks):
        if drink.new is not None:
            look = drink.new.pours_of, _look(drink, drink.new.pours_of)
            groups.setdefault(look, set()).add(at)
    two = [None if e.new is None else (e.spec.profile, e.new.pours_of) for e in drinks]
    found = positions_of_equal(two)
    for group in groups.values():
        shown = drinks[min(group)].new
        like = [] if shown is None else _of_the_book_like(drinks, min(group), shown.pours_of)
        found += [frozenset({*group, at}) for at in like] or [frozenset(group)]
    return [group for group in found if len(group) > 1]


def look_of_new(drinks: Sequence[MenuCandidate]) -> list[Hashable]:
    """What a new drink features and how it is sour, whatever its base; None if not new."""
    return [
        None if each.new is None else (each.new.pours_of, _sours(each) or each.cost.made.technique)
        for each in drinks
    ]


def _of_the_book_like(drinks: Sequence[MenuCandidate], new: int, shown: str) -> list[int]:
    look = _look(drinks[new], shown)
    return [
        at
        for at, each in enumerate(drinks)
        if each.new is None and shown in _keys(each) and _look(each, shown) == look
    ]


def _look(drink: MenuCandidate, shown: str) -> Hashable:
    """What a guest tells a drink by that shows an ingredient.

    A sour that is made long is still that sour; what has no sour is told by how it is made. Where
    it is the base that is shown, drinks differ in what sweetens them.
    """
    keys, sours = _keys(drink), _sours(drink)
    base: Hashable = frozenset(keys - sours) if drink.sober else drink.base
    strongest = drink.strongest.key
    beside = _of_kinds(drink, _SWEET) if shown == strongest and not drink.sober else frozenset()
    return base, sours or drink.cost.made.technique, beside


def _keys(drink: MenuCandidate) -> frozenset[str]:
    return frozenset(line.ingredient.key for line in drink.cost.made.lines)


def _sours(drink: MenuCandidate) -> frozenset[str]:
    return _of_kinds(drink, _SOUR)


def _of_kinds(drink: MenuCandidate, kinds: Sequence[str]) -> frozenset[str]:
    items = (line.ingredient for line in drink.cost.made.lines)
    return frozenset(item.key for item in items if _is_any(item, kinds))


def _is_any(item: Ingredient, kinds: Sequence[str]) -> bool:
    return any(map(item.is_kind, kinds))
