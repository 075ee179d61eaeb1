"""How a drink is made and what it is served in, in a few words."""

from __future__ import annotations

from solver.drinks.method import SERVED, ServedAs
from solver.pantry.bar import Bar
from solver.pantry.vocabulary import TECHNIQUE_NAMES
from solver.tasks.design_result import Design

_STRAINED = ("shake", "stir", "throw")
"""How techniques begin that leave their ice behind."""
_INTO = {
    ServedAs.UP: "up in",
    ServedAs.ON_ICE: "on fresh ice in",
    ServedAs.CRUSHED: "on crushed ice in",
}
"""What is in the glass such a drink is strained into."""


def served_words(found: Design, bar: Bar) -> str:
    """Like "shaken with ice and strained, up in a coupe"; without a glass where any will do."""
    technique, glass = found.profile.technique, found.glass
    strained = technique.startswith(_STRAINED)
    poured = () if found.answer is None else found.answer.pours
    if strained and not any(pour.top for pour in poured):  # a sling may have juice for soda
        technique = technique.removesuffix("-top")
    made = TECHNIQUE_NAMES[technique]
    if strained and found.answer is not None and found.answer.leaves:
        made = made.replace("strained", "fine strained")
    if glass is None:
        return made
    stood = bar.glass(glass)
    into = _INTO.get(SERVED.get(stood.serve, ServedAs.HOT), "in")
    return f"{made}, {into if strained else 'in'} a {stood.says or glass}"
