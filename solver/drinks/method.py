"""The method of a drink: the acts on its pours in order, as data without words.

It is derived from technique, service and pours, so that it changes with them. A spec may state its
own steps instead (`solver.pantry.spec`).
"""

from __future__ import annotations

import enum
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from solver.drinks.guest_notice import FIZZY
from solver.pantry.garnish import BEGUN_WITH
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.requests.leaves import HERB


@enum.unique
class Act(enum.StrEnum):
    """One act of the method. Its words are in `solver/show/words`."""

    WARM = "warm"
    """Warm the glass with hot water, and empty it."""
    MUDDLE_SUGAR = "muddle-sugar"
    """Wet dry sugar with what dissolves it, and stir until it is gone."""
    BRUISE = "bruise"
    """Press leaves gently."""
    MUDDLE = "muddle"
    """Press fruit until its juice runs."""
    SHAKEN_WITH = "shaken-with"
    """Put something of the garnish into the shaker, before anything is poured."""
    BRUISED_IN_GLASS = "bruised-in-glass"
    MUDDLED_IN_GLASS = "muddled-in-glass"
    MUDDLED_WITH = "muddled-with"
    """Press fruit of the garnish together with what sweetens the drink."""
    RIM = "rim"
    """Give the glass a rim of something, before anything is in it."""
    TIN = "tin"
    """Pour into the shaker."""
    MIXING_GLASS = "mixing-glass"
    BLENDER = "blender"
    IN_GLASS = "in-glass"
    """Pour into the glass it is served in."""
    ON_ICE = "on-ice"
    """Pour over ice in the glass it is served in."""
    ON_CRUSHED = "on-crushed"
    DRY_SHAKE = "dry-shake"
    SHAKE = "shake"
    SHAKE_SHORT = "shake-short"
    """Shake for less long, since what is poured on top waters the drink too."""
    STIR = "stir"
    STIR_ON_ICE = "stir-on-ice"
    """Stir in the glass that it is served in, as long as a drink that nothing lengthens needs."""
    STIR_BRIEFLY = "stir-briefly"
    CHURN = "churn"
    """Stir crushed ice in the glass that it is served in."""
    THROW = "throw"
    BLEND = "blend"
    SWIZZLE = "swizzle"
    STRAIN_UP = "strain-up"
    STRAIN_ON_ICE = "strain-on-ice"
    STRAIN_ON_CRUSHED = "strain-on-crushed"
    FINE_STRAIN_UP = "fine-strain-up"
    """Strain through a fine sieve, which holds back torn leaves and pulp."""
    FINE_STRAIN_ON_ICE = "fine-strain-on-ice"
    FINE_STRAIN_ON_CRUSHED = "fine-strain-on-crushed"
    SERVE_FROM_BLENDER = "serve-from-blender"
    HOT = "hot"
    """Add what is hot, and stir until all is one."""
    TOP = "top"
    LIFT = "lift"
    """Lift once with a spoon, so that it mixes and stays lively."""
    FLOAT = "float"
    GARNISH = "garnish"
    EXPRESS = "express"
    """Press the oil of a peel over the drink."""


@dataclass(frozen=True)
class MethodStep:
    """An act on some ingredients; `words` is the garnish as its spec states it, or some of it."""

    act: Act
    ingredients: tuple[Ingredient, ...] = ()
    words: str = ""


@enum.unique
class ServedAs(enum.StrEnum):
    """What is in the glass before the drink is poured."""

    UP = "up"
    ON_ICE = "on ice"
    CRUSHED = "crushed ice"
    HOT = "hot"


SERVED = {
    "up": ServedAs.UP,
    "neat": ServedAs.UP,
    "up or topped": ServedAs.UP,
    "topped, no ice": ServedAs.UP,
    "from a batch": ServedAs.UP,
    "crushed ice, blended in": ServedAs.UP,
    "hot": ServedAs.HOT,
    "on rocks": ServedAs.ON_ICE,
    "ice and topper": ServedAs.ON_ICE,
    "crushed ice": ServedAs.CRUSHED,
}
"""How the drink stands in a glass, by what the glass's file says of it."""

FLOATED = ("dairy/cream", "wine", "spirit", "liqueur", "bitters")
"""Kinds that are laid on a finished drink; what else comes after the ice is mixed in."""

MUDDLED = ("raw/fruit", "raw/vegetable")
"""Kinds that are pressed before anything is poured on them."""
NO_GARNISH = re.compile(r"(?i)\s*(?:none|no garnish)\b")
"""How a spec says that there is none."""
_FOR_ITS_JUICE = re.compile(r"(?i)\bfor the juice above\b")
"""What a garnish says of fruit of which the juice among the pours is."""
_RIMMED = re.compile(r"(?i)rim of (?P<what>[^,]+)(?:, and (?P<rest>.+))?")
_PEEL = re.compile(r"(?i)(?:\w+ )?(?:lemon|lime|orange|grapefruit) (?:peel|twist|zest)")
"""A garnish of which the oil is wanted, and of which nobody says how it goes on."""
_BEGINS = {
    "shaken": Act.SHAKEN_WITH,
    "bruised": Act.BRUISED_IN_GLASS,
    "muddled": Act.MUDDLED_IN_GLASS,
}
_BUILT = ("build", "build-top", "highball", "none")
_STRAINS = {
    ServedAs.UP: Act.STRAIN_UP,
    ServedAs.HOT: Act.STRAIN_UP,
    ServedAs.ON_ICE: Act.STRAIN_ON_ICE,
    ServedAs.CRUSHED: Act.STRAIN_ON_CRUSHED,
}
_FINE = {
    Act.STRAIN_UP: Act.FINE_STRAIN_UP,
    Act.STRAIN_ON_ICE: Act.FINE_STRAIN_ON_ICE,
    Act.STRAIN_ON_CRUSHED: Act.FINE_STRAIN_ON_CRUSHED,
}
"""How what was strained is strained where leaves or fruit were mixed with it."""


def is_floated(item: Ingredient) -> bool:
    """Whether an ingredient that is added last stays on top instead of mixing."""
    return any(map(item.is_kind, FLOATED)) and not _lively(item)


def method_of(
    technique: str, serve: ServedAs, pours: Sequence[Pour], garnish: str | None
) -> tuple[MethodStep, ...]:
    """The steps of a drink made by `technique`; pours of a part that is added last come last."""
    first = tuple(pour.ingredient for pour in pours if not pour.top)
    last = tuple(pour.ingredient for pour in pours if pour.top)
    floated = tuple(filter(is_floated, last))
    topped = tuple(item for item in last if item not in floated)
    before, laid_on = _garnished(garnish or "")
    if _FOR_ITS_JUICE.search(garnish or ""):
        before, first = _pressed(before, first)
    made = _made(technique, serve, first)
    if any(step.act is Act.SHAKEN_WITH for step in before) or any(map(_in_bits, first)):
        made = [replace(step, act=_FINE.get(step.act, step.act)) for step in made]
    steps = [*made, *_topped(technique, topped)]
    if floated:
        steps.append(MethodStep(Act.FLOAT, floated))
    return (*before, *steps, *laid_on)


def _pressed(
    before: Sequence[MethodStep], items: tuple[Ingredient, ...]
) -> tuple[list[MethodStep], tuple[Ingredient, ...]]:
    """Fruit that is muddled with what sweetens it, and what is poured when its juice is out."""
    sweet = tuple(item for item in items if item.is_kind("sugar") or item.is_kind("syrup"))
    left = tuple(item for item in items if item not in sweet and not item.is_kind("juice/sour"))
    steps = [replace(step, act=Act.MUDDLED_WITH, ingredients=sweet) for step in before if sweet]
    return steps or list(before), left


def _in_bits(item: Ingredient) -> bool:
    """Whether bits of an ingredient would be in the glass if it were only strained."""
    return any(map(item.is_kind, (HERB, *MUDDLED)))


def _garnished(garnish: str) -> tuple[list[MethodStep], list[MethodStep]]:
    """What of a garnish comes before the drink, and what is laid on it."""
    before: list[MethodStep] = []
    rest: str | None = garnish
    if begun := BEGUN_WITH.fullmatch(garnish):
        before.append(MethodStep(_BEGINS[begun["how"].lower()], words=begun["what"]))
        rest = begun["rest"]
    elif rimmed := _RIMMED.fullmatch(garnish):
        before.append(MethodStep(Act.RIM, words=rimmed["what"]))
        rest = rimmed["rest"]
    if not rest or NO_GARNISH.match(rest):
        return before, []
    laid_on = Act.EXPRESS if _PEEL.fullmatch(rest) else Act.GARNISH
    return before, [MethodStep(laid_on, words=rest)]


def _made(technique: str, serve: ServedAs, items: tuple[Ingredient, ...]) -> list[MethodStep]:
    """The steps before anything is put on top."""
    if technique == "hot":
        return _hot(items)
    if technique in _BUILT:
        return _built(technique, serve, items)
    if technique in {"julep", "swizzle"}:
        begun, rest = _begun(items)
        mixed = Act.SWIZZLE if technique == "swizzle" else Act.CHURN
        return [*begun, MethodStep(Act.ON_CRUSHED, rest), MethodStep(mixed)]
    if technique == "blend":
        return [
            MethodStep(Act.BLENDER, items),
            MethodStep(Act.BLEND),
            MethodStep(Act.SERVE_FROM_BLENDER),
        ]
    strained = MethodStep(_STRAINS[serve])
    if technique in {"stir", "stir-top"}:
        begun, rest = _begun(items)
        return [*begun, MethodStep(Act.MIXING_GLASS, rest), MethodStep(Act.STIR), strained]
    if technique == "throw":
        return [MethodStep(Act.TIN, items), MethodStep(Act.THROW), strained]
    begun, rest = _begun(items)
    dry = [MethodStep(Act.DRY_SHAKE)] if _foams(technique, items) else []
    shaken = MethodStep(Act.SHAKE_SHORT if technique == "shake-top" else Act.SHAKE)
    return [*begun, MethodStep(Act.TIN, rest), *dry, shaken, strained]


def _hot(items: tuple[Ingredient, ...]) -> list[MethodStep]:
    hot = tuple(item for item in items if item.is_kind("brew") or item.is_kind("water"))
    cold = tuple(item for item in items if item not in hot)
    poured = [MethodStep(Act.IN_GLASS, cold)] if cold else []
    return [MethodStep(Act.WARM), *poured, MethodStep(Act.HOT, hot)]


def _built(technique: str, serve: ServedAs, items: tuple[Ingredient, ...]) -> list[MethodStep]:
    begun, rest = _begun(items)
    if technique == "none" or serve in {ServedAs.UP, ServedAs.HOT}:
        return [*begun, MethodStep(Act.IN_GLASS, rest)]
    place = Act.ON_CRUSHED if serve is ServedAs.CRUSHED else Act.ON_ICE
    long = tuple(filter(_lively, rest))
    short = tuple(item for item in rest if item not in long)
    if long and short:
        return [*begun, MethodStep(place, short), MethodStep(Act.TOP, long), MethodStep(Act.LIFT)]
    stirred = Act.STIR_ON_ICE if technique == "build" else Act.STIR_BRIEFLY
    return [*begun, MethodStep(place, rest), MethodStep(Act.LIFT if long else stirred)]


def _topped(technique: str, items: tuple[Ingredient, ...]) -> list[MethodStep]:
    if not items:
        return []
    if technique == "hot":
        return [MethodStep(Act.HOT, items)]
    return [MethodStep(Act.TOP, items), MethodStep(Act.LIFT)]


def _begun(items: tuple[Ingredient, ...]) -> tuple[list[MethodStep], tuple[Ingredient, ...]]:
    """The steps that precede pouring the rest, and the ingredients that remain."""
    leaves = tuple(item for item in items if item.is_kind(HERB))
    fruit = tuple(item for item in items if any(map(item.is_kind, MUDDLED)))
    sugar = tuple(item for item in items if item.is_kind("sugar"))
    wet = tuple(item for item in items if sugar and item.is_kind("bitters"))
    if sugar and not wet:
        wet = tuple(item for item in items if item.is_kind("juice"))
    steps = [MethodStep(Act.BRUISE, leaves)] if leaves else []
    if fruit:
        steps.append(MethodStep(Act.MUDDLE, (*sugar, *fruit, *wet)))
    elif sugar:
        steps.append(MethodStep(Act.MUDDLE_SUGAR, (*sugar, *wet)))
    done = {item.key for item in (*leaves, *sugar, *wet, *fruit)}
    return steps, tuple(item for item in items if item.key not in done)


def _foams(technique: str, items: Iterable[Ingredient]) -> bool:
    if technique == "shake-egg":
        return True
    return any(item.is_kind("egg") or item.is_kind("foam") for item in items)


def _lively(item: Ingredient) -> bool:
    return any(map(item.is_kind, FIZZY))
