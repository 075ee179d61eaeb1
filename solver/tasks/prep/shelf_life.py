"""The planned life of a house ingredient, and its reasons. Never a promise that it is safe.

The days are planning defaults of the trade; only the rule of seven days has a published source. The
shortest rule that applies decides.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from solver.mixture.keeping import (
    AW_ACID_RULES,
    DELLE_STABLE,
    delle_units,
    spirit_against_yeast_ml,
)
from solver.mixture.sucrose import saturation_celsius, solubility_mass_pct
from solver.pantry.ingredient import Ingredient

PRACTICE: Final = "common practice, no source"
SEVEN_DAYS: Final = (
    "FDA Food Code 3-501.17, as in Minnesota Rules 4626.0400: at most seven days at 5 °C or below, "
    "counting the day it is made as the first"
)
TRADE_ABV: Final = 20.0
SHELF_ABV: Final = 30.0
FORTIFIED_ABV: Final = 15.0
"""% vol of liqueur wine at the least: Regulation (EU) 1308/2013, Annex VII, from memory."""
WEAK_ABV: Final = 5.0
FRIDGE_CELSIUS: Final = 4.0
WEAK_ACID: Final = 0.3
"""Titratable acid in g/100 mL below which a thing may be low in acid; only a pH meter tells."""
LOW_IN_ACID: Final = (
    "raw/vegetable", "raw/nut", "raw/seed", "raw/cocoa", "raw/grain", "raw/tea", "raw/herb",
    "juice/vegetable", "brew",
)  # fmt: skip
"""Kinds that bring no acid, so that a pH above 4.6 must be thought of."""


@dataclass(frozen=True)
class Life:
    """Days from the day it is made, with the reason and its basis."""

    days: int
    why: str
    basis: str
    source: str

    def ends(self, made: date) -> date:
        """The last day of use of what was made on a day, no later than the last day of the
        calendar."""
        return made + timedelta(days=min(self.days, (date.max - made).days))


@dataclass(frozen=True)
class Keeping:
    """The planned life, indicators of spoilage, and hazards."""

    life: Life
    says: tuple[str, ...]
    hazards: tuple[str, ...]


RAW_EGG: Final = "Egg: use pasteurised egg, or tell the guest that it is raw."
ALWAYS: Final = (
    "Planning days in a clean, closed bottle at 5 °C or below, and no promise that it is safe: "
    "throw it out at any mould, fizz or off smell. Local codes and licensed practice come first."
)


def keeping_of(
    inputs: Sequence[Ingredient],
    *,
    strained: bool,
    brix: float,
    sugar_g_100ml: float,
    acid_g_100ml: float,
    abv_pct: float,
    activity: float,
) -> Keeping:
    """The planned life of what is made of some ingredients.

    `inputs` are all inputs, on all levels; `strained` is true if something was steeped and strained
    off; the figures are those of the bottle.
    """
    units = float(delle_units(sugar_g_100ml, abv_pct))
    lives = [_by_strength(inputs, brix, abv_pct, units, strained=strained)]
    lives += [*_by_content(inputs, brix, abv_pct), *_by_wine(inputs, abv_pct, units)]
    says = (*_says(inputs, sugar_g_100ml, abv_pct, activity), *_crystals(brix, abv_pct))
    hazards = tuple(_hazards(inputs, acid_g_100ml, abv_pct, activity))
    return Keeping(min(lives, key=lambda life: life.days), says, hazards)


def _may_hold_milk(item: Ingredient) -> bool:
    """Whether it is of an animal's milk, as far as anybody has said: almond milk is not."""
    return item.allergens is None or "milk" in item.allergens | item.may_contain


def _has(inputs: Iterable[Ingredient], *kinds: str) -> list[str]:
    return list(dict.fromkeys(i.name for i in inputs if any(map(i.is_kind, kinds))))


def _by_strength(
    inputs: Sequence[Ingredient], brix: float, abv: float, units: float, *, strained: bool
) -> Life:
    """The life by sugar and alcohol; `units` are Delle units."""
    drawn = strained or any(i.is_kind("raw") and not i.is_kind("raw/gum") for i in inputs)
    if abv >= TRADE_ABV:
        days = 90 if drawn and abv < SHELF_ABV else 180 if drawn else 365
        return Life(days, f"{abv:.0f} % vol of alcohol", "practice", PRACTICE)
    if brix >= 65:
        return Life(90, "about two parts of sugar to one of water", "practice", PRACTICE)
    if brix >= 45 and drawn:
        return Life(21, "a syrup that something was strained from", "practice", PRACTICE)
    if brix >= 45:
        return Life(28, "a plain syrup weaker than two to one", "practice", PRACTICE)
    if abv >= FORTIFIED_ABV and units >= DELLE_STABLE:
        why = f"{abv:.1f} % vol of alcohol, kept like an opened vermouth: 30 to 60 days"
        return Life(30, why, "practice", PRACTICE)
    if abv >= FORTIFIED_ABV:
        why = f"{abv:.1f} % vol of alcohol, kept like an opened fino sherry: 7 to 14 days"
        return Life(7, why, "practice", PRACTICE)
    if brix >= 25:
        return Life(7, "a weak syrup", "practice", PRACTICE)
    if acid_solution(inputs):
        return Life(60, "acid and water", "practice", PRACTICE)
    if abv >= WEAK_ABV:
        why = f"{abv:.1f} % vol of alcohol, kept like an opened wine: 3 to 5 days"
        return Life(3, why, "practice", PRACTICE)
    return Life(3, "hardly any sugar or alcohol", "practice", PRACTICE)


def acid_solution(inputs: Sequence[Ingredient]) -> bool:
    """Whether all inputs are acid, salt or water."""
    return all(map(_keeps_itself, inputs)) and bool(_has(inputs, "acid"))


def _keeps_itself(item: Ingredient) -> bool:
    return any(map(item.is_kind, ("acid", "water", "seasoning/saline")))


def _by_content(inputs: Sequence[Ingredient], brix: float, abv: float) -> Iterator[Life]:
    if found := _has(inputs, "dairy", "raw/dairy", "egg", "liqueur/cream"):
        yield Life(6, f"it holds {found[0]}", "published", SEVEN_DAYS)
    if abv >= TRADE_ABV:
        return
    if found := _has(inputs, "raw/nut", "raw/seed", "raw/grain", "syrup/nut"):
        yield Life(6, f"it holds {found[0]}", "published", SEVEN_DAYS)
    if found := _has(inputs, "coconut", "foam"):
        yield Life(5, f"it holds {found[0]}", "practice", PRACTICE)
    if found := _has(inputs, "raw/fat"):
        yield Life(6, f"it holds {found[0]}", "published", SEVEN_DAYS)
    if found := _has(inputs, "raw/fruit", "juice", "syrup/fruit"):
        yield Life(12, f"it holds {found[0]}", "practice", PRACTICE)
    if found := _has(inputs, "raw/vegetable", "juice/vegetable"):
        yield Life(12, f"it holds {found[0]}", "practice", PRACTICE)
    if found := _has(inputs, "syrup/honey"):
        yield Life(14, "it holds thinned honey, which ferments", "practice", PRACTICE)
    if brix < 45 and (found := _has(inputs, "raw/tea", "brew", "raw/herb")):
        yield Life(3, f"it holds {found[0]} and little sugar", "practice", PRACTICE)


def _by_wine(inputs: Sequence[Ingredient], abv: float, units: float) -> Iterator[Life]:
    """Yield the life of opened wine, whatever its strength."""
    found = _has(inputs, "fortified", "wine", "beer")
    if not found:
        return
    if abv < FORTIFIED_ABV and units < DELLE_STABLE:
        yield Life(3, f"it holds {found[0]}, like an opened wine", "practice", PRACTICE)
    elif _has(inputs, "spirit", "liqueur", "bitters"):
        why = f"it is a bottled drink with {found[0]} in it: 14 to 30 days"
        yield Life(14, why, "practice", PRACTICE)
    else:
        why = f"it holds {found[0]}, like an opened bottle of it: 30 to 60 days"
        yield Life(30, why, "practice", PRACTICE)


def _says(inputs: Sequence[Ingredient], sugar: float, abv: float, activity: float) -> Iterator[str]:
    if abv >= TRADE_ABV:
        yield f"At {abv:.0f} % vol it is the alcohol that keeps it, whatever its sugar."
        return
    below = "at or below" if activity <= AW_ACID_RULES else "above"
    yield (
        f"Water activity {activity:.3f} (Norrish): {below} the {AW_ACID_RULES:g} of 21 CFR 114.3. "
        "Most bacteria stop at 0.91, many yeasts at 0.87, most moulds at 0.80; some yeasts only at "
        "0.61 (Beuchat 1981)."
    )
    units = float(delle_units(sugar, abv))
    if units >= DELLE_STABLE:
        yield (
            f"{units:.0f} Delle units, above the {DELLE_STABLE:.0f} at which yeast was not seen to "
            "ferment wine again (Amerine and Kunkee 1965; 75 to 85 observed). Moulds, bacteria and "
            "acidity are not in them."
        )
        return
    needed = float(spirit_against_yeast_ml(units))
    yield (
        f"{units:.0f} Delle units of the {DELLE_STABLE:.0f} that stop yeast (Amerine and Kunkee "
        f"1965): that would take {needed:.0f} mL more of 40 % vol spirit to the litre."
    )
    if abv > 0:
        spirit = _has(inputs, "spirit", "liqueur", "fortified", "wine")
        what = spirit[0] if spirit else "alcohol"
        yield (
            f"The {what} in it brings {abv:.1f} % vol, {units - sugar:.0f} of those units: that "
            "slows yeast and preserves nothing."
        )


def _crystals(brix: float, abv: float) -> Iterator[str]:
    """Yield a warning if so much sugar crystallises in the cold; unknown with alcohol."""
    if abv >= WEAK_ABV or brix <= float(solubility_mass_pct(FRIDGE_CELSIUS)):
        return
    clear = float(saturation_celsius(brix))
    yield (
        f"{brix:.1f} Brix is more sugar than water holds at {FRIDGE_CELSIUS:.0f} °C (Bubník and "
        f"Kadlec 1995): below about {clear:.0f} °C it may crystallise."
    )


def _hazards(
    inputs: Sequence[Ingredient], acid: float, abv: float, activity: float
) -> Iterator[str]:
    if abv < TRADE_ABV and _has(inputs, "raw/fat") and _has(inputs, "raw/vegetable", "raw/herb"):
        yield (
            "Garlic, chilli or herbs left under oil can grow the bacterium of botulism: keep it at "
            "5 °C or below and no longer than seven days, or acidify it below pH 4.6."
        )
    weak = acid < WEAK_ACID and activity > AW_ACID_RULES and abv < TRADE_ABV
    low = _has(inputs, *LOW_IN_ACID)
    if weak and low:
        yield (
            f"Low in acid, with {low[0]}: if its pH is above 4.6, which only a meter tells, it is "
            "a low-acid food (21 CFR 114.3). Keep it cold; never bottle it for the shelf."
        )
    if nuts := _has(inputs, "raw/nut", "syrup/nut", "liqueur/nut"):
        yield f"Nuts ({nuts[0]}): a common allergen, and food for bacteria."
    if dairy := _has(filter(_may_hold_milk, inputs), "dairy", "raw/dairy", "liqueur/cream"):
        yield f"Dairy ({dairy[0]}): an allergen, and food for bacteria."
    if _has(inputs, "egg"):
        yield RAW_EGG
    yield ALWAYS
