"""Classify the result of a recipe, and derive its characters, from inputs and figures.

The rules are our own and follow the trade's usage: only the sugar of a liqueur is published.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.pantry.vocabulary import KINDS, kind_within
from solver.tasks.prep.batch_figures import Figures

STRONG_ABV = 15.0
"""% vol from which it is a spirit or a liqueur; below, spirit only keeps it."""
LIQUEUR_SUGAR = 10.0
"""g/100 mL: a liqueur has 100 g/L at the least (Regulation (EU) 2019/787, Annex I)."""
SYRUP_SUGAR = 25.0
"""g/100 mL from which it sweetens: our own choice."""
CORDIAL_ACID = 1.0
SOUR_ACID = 3.0
"""g/100 mL from which a syrup is a cordial, and a juice sours a drink: our own choice."""
FRUIT_SHARE = 0.05
"""Of the weight, from which fruit makes a syrup one of fruit, and not a peel among spices."""
MOST_CHARACTERS = 5


@dataclass(frozen=True)
class WentIn:
    """An input: its kind, characters, weight in g, and alcohol in g."""

    kind: str
    character: Sequence[str]
    grams: float
    ethanol_g: float = 0.0

    def is_kind(self, *kinds: str) -> bool:
        """Whether it is one of some kinds, or of one below them."""
        return any(kind_within(self.kind, kind) for kind in kinds)


def kind_of(figures: Figures, went_in: Sequence[WentIn]) -> str | None:
    """The kind of the result; None if no rule applies."""
    sugar, acid = figures.sugar_g_100ml.value, figures.acid_g_100ml.value
    main = max(went_in, key=lambda put: put.ethanol_g, default=None)
    if main is not None and figures.abv_pct.value >= STRONG_ABV:
        return _liqueur(went_in) if sugar >= LIQUEUR_SUGAR else main.kind
    if sugar >= SYRUP_SUGAR:
        return _syrup(acid, went_in)
    if main is not None and figures.abv_pct.value >= STRONG_ABV / 3:
        return main.kind
    return _thin(acid, went_in)


def character_of(went_in: Sequence[WentIn]) -> tuple[str, ...]:
    """The characters of the result: of raw ingredients first, then of others, last of sugars but
    cane."""
    flavours = [put for put in went_in if not put.is_kind("sugar", "syrup/plain", "water")]
    raw = [put for put in flavours if put.is_kind("raw")]
    said = [word for put in (*raw, *flavours) for word in put.character]
    sweet = [w for put in went_in if put.is_kind("sugar") for w in put.character if w != "cane"]
    return tuple(dict.fromkeys([*said, *sweet]))[:MOST_CHARACTERS]


def _share(went_in: Sequence[WentIn], *kinds: str) -> float:
    whole = sum(put.grams for put in went_in)
    return sum(put.grams for put in went_in if put.is_kind(*kinds)) / whole if whole else 0.0


_FLAVOURS = (
    ("nut", ("raw/nut", "syrup/nut")),
    ("coffee", ("brew/coffee",)),
    ("cocoa", ("raw/cocoa",)),
    ("fruit", ("raw/fruit", "juice/fruit", "juice/citrus", "syrup/fruit")),
    ("spice", ("raw/spice", "raw/vegetable", "raw/seed", "raw/grain", "syrup/spice")),
    ("herb", ("raw/herb", "raw/tea", "brew/tea")),
    ("honey", ("syrup/honey",)),
)


def _liqueur(went_in: Sequence[WentIn]) -> str:
    """The kind of a liqueur by its flavouring; dairy and egg come first, as they spoil."""
    if _share(went_in, "dairy/cream", "dairy/milk"):
        return "liqueur/cream"
    if _share(went_in, "egg"):
        return "liqueur/egg"
    if any("coffee" in put.character for put in went_in):
        return "liqueur/coffee"
    found = (f"liqueur/{name}" for name, kinds in _FLAVOURS if _share(went_in, *kinds))
    return next((kind for kind in found if kind in KINDS), "liqueur/herb")


def _syrup(acid: float, went_in: Sequence[WentIn]) -> str:
    if _share(went_in, "raw/nut", "syrup/nut"):
        return "syrup/nut"
    sours = _share(went_in, "acid", "juice/sour")
    if sours and acid >= CORDIAL_ACID:
        return "syrup/cordial"
    if _share(went_in, "raw/fruit", "juice", "syrup/fruit") >= FRUIT_SHARE:
        return "syrup/fruit"
    if _share(went_in, "raw", "brew", "syrup/spice", "bitters"):
        return "syrup/spice"
    sweet = [put for put in went_in if put.is_kind("syrup")]
    main = max(sweet, key=lambda put: put.grams, default=None)
    return "syrup/plain" if main is None else main.kind


def _thin(acid: float, went_in: Sequence[WentIn]) -> str | None:
    """The kind of a result that is neither strong nor sweet; None if no rule applies."""
    if _share(went_in, "egg"):
        return None
    for kind in ("dairy/cream", "dairy/milk", "coconut", "foam"):
        if _share(went_in, kind):
            return kind
    if _share(went_in, "acid/vinegar"):
        return "acid/vinegar"
    if _share(went_in, "juice", "raw/fruit"):
        citrus = _share(went_in, "juice/citrus") > 0
        return "juice/sour" if acid >= SOUR_ACID else "juice/citrus" if citrus else "juice/fruit"
    if _share(went_in, "acid") and acid >= CORDIAL_ACID:
        return "acid/solution"
    if any("coffee" in put.character for put in went_in):
        return "brew/coffee"
    for kind, kinds in (
        ("brew/tea", ("raw/tea", "brew/tea", "raw/herb")),
        ("juice/vegetable", ("raw/vegetable", "juice/vegetable")),
        ("seasoning/saline", ("seasoning/saline",)),
    ):
        if _share(went_in, *kinds):
            return kind
    return None
