"""The axes of a trade-off: measures, the distance from the aims, and what is in keeping."""

from __future__ import annotations

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.measures import MEASURES, Measure
from solver.printable import short
from solver.search.tolerances import UNNOTICED

OFF_AIM = "off-aim"
"""The distance from all aims together, where a measure could be named."""
IN_KEEPING = "in-keeping"
"""How many published drinks in a hundred are as much in keeping, where a measure could be named:
the fewer, the more in keeping a drink is."""
ALIKE_PCT = 1.0
"""Of those, how many more or fewer make no difference that anybody would mind: our own choice."""

Between = tuple[str, str]
"""Two names of measures, or one or both of `OFF_AIM` and `IN_KEEPING`."""


def read_between(between: Between) -> tuple[Measure | None, Measure | None]:
    """The measures that two names stand for; None for a name that is no measure.

    Raises:
        BadInput: a name is not known, or they are the same.
    """
    known = (*MEASURES, OFF_AIM, IN_KEEPING)
    for name in between:
        if name not in known:
            what = f"'{short(name)}' is not a measure"
            remedy = f"Known: {', '.join(known)}."
            raise BadInput(what, near=near_words(name, known), remedy=remedy)
    if between[0] == between[1]:
        what = f"there is no trade-off between {between[0]} and itself"
        raise BadInput(what, remedy=f"Name two of {', '.join(known)}.")
    return MEASURES.get(between[0]), MEASURES.get(between[1])


def unnoticed(name: str, value: float) -> float:
    """The difference from a value below which nobody notices it."""
    if name == IN_KEEPING:
        return ALIKE_PCT
    return UNNOTICED * (MEASURES[name].tolerance(value) if name in MEASURES else 1.0)
