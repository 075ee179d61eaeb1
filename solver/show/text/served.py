"""How a drink is made and what it is served in, in a few words."""

from __future__ import annotations

from solver.drinks.method import SERVED, ServedAs
from solver.pantry.bar import Bar
from solver.pantry.vocabulary import TECHNIQUE_NAMES

_STRAINED = ("shake", "stir", "throw")
"""How techniques begin that leave their ice behind."""
_INTO = {
    ServedAs.UP: "up in",
    ServedAs.ON_ICE: "on fresh ice in",
    ServedAs.CRUSHED: "on crushed ice in",
}
"""What is in the glass such a drink is strained into."""


def served_words(technique: str, glass: str | None, bar: Bar) -> str:
    """Like "shaken with ice and strained, up in a coupe"; without a glass where any will do."""
    made = TECHNIQUE_NAMES[technique]
    if glass is None:
        return made
    found = bar.glass(glass)
    into = _INTO.get(SERVED.get(found.serve, ServedAs.HOT), "in")
    return f"{made}, {into if technique.startswith(_STRAINED) else 'in'} a {found.says or glass}"
