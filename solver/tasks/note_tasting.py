"""Note a tasting in a spec, or take the last one back."""

from __future__ import annotations

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.spec import Spec, Tasting
from solver.printable import short

MOST_LETTERS = 300
"""How long what is said of a drink may be."""


def noted(spec: Spec, score: int, words: str | None, bar: Bar) -> Spec:
    """The spec with a tasting of today, of what it pours now.

    Raises:
        BadInput, BadInputs: the spec pours what is not known, or the words are none.
    """
    lines = spec.poured(bar.bottles, bar.measures)
    keys = tuple(dict.fromkeys(line.ingredient.key for line in lines))
    said = None if words is None else _words(words)
    note = Tasting(date=bar.today, score=score, words=said, poured=keys)
    return spec.model_copy(update={"tasted": (*spec.tasted, note)})


def _words(text: str) -> str:
    words = " ".join(text.split())
    what, remedy = f"'{short(text)}' cannot be noted", 'Write it like "too smoky".'
    if not words:
        raise BadInput(f"'{short(text)}' says nothing of a drink", remedy=remedy)
    if len(words) > MOST_LETTERS:
        raise BadInput(what, why=f"it has more than {MOST_LETTERS} letters", remedy=remedy)
    if hidden := next((sign for sign in words if not sign.isprintable()), None):
        why = f"it holds a mark that nobody sees, U+{ord(hidden):04X}"
        raise BadInput(what, why=why, remedy="Leave that out; letters of any script may stay.")
    return words


def taken_back(spec: Spec) -> tuple[Spec, Tasting]:
    """The spec without its last tasting, and that tasting.

    Raises:
        BadInput: there is none.
    """
    if not spec.tasted:
        what = f"no tasting of {spec.name} is noted"
        raise BadInput(what, remedy='Note one with --score 4 "too smoky".')
    *earlier, last = spec.tasted
    return spec.model_copy(update={"tasted": tuple(earlier)}), last
