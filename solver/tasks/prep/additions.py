"""Additions that bring a batch to a strength, sweetness and acidity."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from solver.clock import Clock, TimeUpError
from solver.errors import BadInput, Unproven
from solver.kitchen.aiming import (
    Adder,
    Aiming,
    BatchAim,
    BatchMeasure,
    Shares,
    reach,
    value_of,
)
from solver.kitchen.batch import SUGAR, WATER, composition, mass_g, measured
from solver.mixture.keeping import DELLE_STABLE, delle_units, water_activity
from solver.mixture.numeric import Floats
from solver.mixture.sucrose import COLDEST_CELSIUS, WARMEST_CELSIUS, solubility_mass_pct
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.printable import short
from solver.quantities import parse
from solver.tasks.prep.amount_to_make import read_amount
from solver.tasks.prep.binding_limits import MOST_ADDED, BindingLimits, are_met, binding_limits
from solver.tasks.prep.inputs import gram_of, millilitres_per_gram
from solver.tasks.prep.prepare import find_recipe, prepare

USUAL_ACIDS: Final = (2.0, 1.0)
"""Citric to malic acid, as in the trade's lime-acid solutions: common practice, no source."""
DEAR_SPIRIT: Final = 3.0
"""Grams of water that a gram of spirit is worth sparing; a choice of ours."""
STORED_CELSIUS: Final = 4.0
SECONDS: Final = 60.0
"""How long amounts are looked for at most, where nobody says."""
MOST_STEPS: Final = 1e6
"""Steps of a scale that a batch may weigh: no scale has more."""


@dataclass(frozen=True)
class BatchWish:
    """The aims of a batch, as written.

    `aims` are like "60 Brix" or "acid 6 g/100ml"; `acids` the parts of citric and malic acid, like
    "2:1"; `spirit` what it is fortified with; `step` that of the scale; `stored` its storage
    temperature.
    """

    aims: tuple[str, ...] = ()
    fortify_to_keep: bool = False
    acids: str | None = None
    spirit: str | None = None
    step: str = "1 g"
    stored: str | None = None
    make: str | None = None


@dataclass(frozen=True)
class Addition:
    """An addition in grams, and in mL if it is poured; else None."""

    ingredient: Ingredient
    grams: float
    ml: float | None
    cost: float | None


@dataclass(frozen=True)
class Aimed:
    """A batch brought to its aims.

    `start_g` and `start_ml` are what is taken of `name`; `values` are the resulting values of the
    aims, in their order. `held` has the limits that prevent meeting them. `assumed` states
    assumptions.
    """

    name: str
    start_g: float
    start_ml: float
    aims: tuple[BatchAim, ...]
    added: tuple[Addition, ...]
    values: tuple[float, ...]
    volume_ml: float
    figures: dict[str, float]
    held: BindingLimits
    assumed: tuple[str, ...]

    @property
    def met(self) -> bool:
        """Whether every aim is met to its tolerance."""
        return are_met(self.aims, self.values)


def aim_at(name: str, wish: BatchWish, bar: Bar, today: date, clock: Clock | None = None) -> Aimed:
    """What to add to a house recipe's batch, or to a litre of any other ingredient.

    Raises:
        BadInput, BadInputs: something asked for can't be read or is not known, or no amounts are
            found that do it.
        Unproven: there was no time to find the amounts.
    """
    clock = clock or Clock.of(SECONDS)
    aims = tuple(_aim(text, bar) for text in wish.aims)
    _refuse_what_has_no_effect(wish, {aim.measure for aim in aims})
    title, start = _start(name, bar, today)
    found = _aimed(title, start, aims, wish, bar, clock)
    if wish.make is None:
        return found
    recipe = bar.recipe(name)
    key = recipe.key if recipe is not None else bar.bottles.find(name).key
    amount = read_amount(wish.make, key, bar)
    grams = found.start_g + sum(added.grams for added in found.added)
    return _aimed(title, start * amount.factor(found.volume_ml, grams), aims, wish, bar, clock)


def _refuse_what_has_no_effect(wish: BatchWish, aimed: set[BatchMeasure]) -> None:
    """Refuse an option about something that is not added.

    Raises:
        BadInput: there is one.
    """
    sweetened = bool(aimed & {BatchMeasure.BRIX, BatchMeasure.SUGAR})
    fortified = BatchMeasure.ABV in aimed or wish.fortify_to_keep
    for said, there, option, partner in (
        (wish.acids, BatchMeasure.ACID in aimed, "--acids", "--aim 'acid 6 g/100ml'"),
        (wish.spirit, fortified, "--spirit", "--aim 'abv 20%' or --fortify-to-keep"),
        (wish.stored, sweetened, "--stored", "an aim in Brix or sugar"),
    ):
        if said is not None and not there:
            raise BadInput(f"{option} goes with {partner}", remedy=f"Leave out {option}.")


def _aim(text: str, bar: Bar) -> BatchAim:
    """Read an aim: a measure and its value, or Brix alone."""
    word = re.match(r"\s*([A-Za-z]+)\s+(.*)", text)
    names = {"abv": "strength", "sugar": "concentration", "acid": "concentration"}
    if word is None or word[1].lower() in ("", "brix"):
        return BatchAim(BatchMeasure.BRIX, parse(word[2] if word else text, "brix", bar.measures))
    measure = word[1].lower()
    if measure not in names:
        what = f"'{short(word[1])}' is not something a batch can be aimed at"
        raise BadInput(what, remedy="Write it like '60 Brix', 'acid 6 g/100ml' or 'abv 40%'.")
    return BatchAim(BatchMeasure(measure), parse(word[2], names[measure], bar.measures))


def _start(name: str, bar: Bar, today: date) -> tuple[str, Floats]:
    """The batch of a house recipe, or a litre (or kilogram) of any other ingredient."""
    recipe = find_recipe(name, bar) if name not in bar.bottles else bar.recipe(name)
    if recipe is not None:
        prep = prepare(recipe, bar, today)
        return recipe.dish.name, prep.batch
    item = bar.bottles.find(name)
    grams = 1000.0 if item.per == "g" else 1000.0 / millilitres_per_gram(item)
    return item.name, grams * gram_of(item)


def _aimed(
    title: str, start: Floats, aims: tuple[BatchAim, ...], wish: BatchWish, bar: Bar, clock: Clock
) -> Aimed:
    items, aiming, assumed = _aiming(start, aims, wish, bar)
    try:
        steps = reach(aiming, clock)
    except TimeUpError:
        raise Unproven("the time was up before it was known what to add") from None
    if steps is None:
        what = "no amounts were found that do that"
        raise BadInput(what, why=_hopeless(aiming), remedy="Aim lower, or have more on the shelf.")
    batch = aiming.batch(steps)
    values = tuple(value_of(batch, aim.measure) for aim in aims)
    done = measured(batch)
    figures = {measure.value: value_of(batch, measure) for measure in BatchMeasure}
    figures["water_activity"] = float(water_activity(composition(batch)))
    figures["delle"] = float(delle_units(done.sugar_g_100ml, done.abv_pct))
    added = tuple(
        _added(item, count * adder.step_g, bar)
        for item, adder, count in zip(items, aiming.adders, steps, strict=True)
        if count
    )
    return Aimed(
        name=title,
        start_g=float(mass_g(start)),
        start_ml=float(measured(start).volume_ml),
        aims=aims,
        added=added,
        values=values,
        volume_ml=float(done.volume_ml),
        figures=figures,
        held=BindingLimits()
        if are_met(aims, values)
        else binding_limits(aiming, values, _said_stored(wish), clock),
        assumed=assumed if any(each.ingredient.kind == "acid/powder" for each in added) else (),
    )


def _hopeless(aiming: Aiming) -> str:
    if aiming.least_delle is not None:
        return f"nothing tried reaches {DELLE_STABLE:.0f} Delle units with what there is"
    return "nothing tried with what there is keeps the limits"


def _added(item: Ingredient, grams: float, bar: Bar) -> Addition:
    ml = None if item.per == "g" else grams * millilitres_per_gram(item)
    stocked = bar.stocked(item.key)
    price = stocked.price_per_unit if stocked else None
    if price is None and item.is_kind("water"):
        price = 0.0
    units = grams if ml is None else ml
    return Addition(item, grams, ml, None if price is None else price * units)


def _aiming(
    start: Floats, aims: tuple[BatchAim, ...], wish: BatchWish, bar: Bar
) -> tuple[tuple[Ingredient, ...], Aiming, tuple[str, ...]]:
    """The problem: what may be added to meet the aims, and the limits."""
    items: list[Ingredient] = [bar.bottles.find("water")]
    assumed: list[str] = []
    measures = {aim.measure for aim in aims}
    shares = None
    if measures & {BatchMeasure.BRIX, BatchMeasure.SUGAR}:
        items.append(_sugar(bar))
    if BatchMeasure.ACID in measures:
        shares = Shares((len(items), len(items) + 1), _parts(wish.acids))
        items += [bar.bottles.find("citric-acid"), bar.bottles.find("malic-acid")]
        if wish.acids is None:
            assumed.append("citric and malic acid 2:1, as in lime-acid solutions: common practice")
    if BatchMeasure.ABV in measures or wish.fortify_to_keep:
        items.append(_spirit(wish, bar))
    step = _step(wish.step, float(mass_g(start)), bar)
    stored = STORED_CELSIUS if wish.stored is None else _stored(wish.stored, bar)
    adders = tuple(_adder(item, step, start, bar) for item in items)
    aiming = Aiming(
        start,
        adders,
        aims,
        shares,
        DELLE_STABLE if wish.fortify_to_keep else None,
        float(solubility_mass_pct(stored)) / 100 if _sweetened(items, start, stored) else None,
    )
    return tuple(items), aiming, tuple(assumed)


def _step(text: str, start_g: float, bar: Bar) -> float:
    step = parse(text, "mass", bar.measures)
    if step <= 0:
        raise BadInput("the step of the scale is nothing", remedy="Write it like 1 g.")
    if start_g > MOST_STEPS * step:
        what = f"{start_g:g} g are more than a scale with steps of {step:g} g can weigh"
        raise BadInput(what, remedy="Give the step of the scale with --step, like 10 g.")
    return step


def _said_stored(wish: BatchWish) -> str:
    """The storage temperature in words."""
    return wish.stored or f"{STORED_CELSIUS:.0f} °C"


def _stored(text: str, bar: Bar) -> float:
    celsius = parse(text, "temperature", bar.measures)
    if not COLDEST_CELSIUS <= celsius <= WARMEST_CELSIUS:
        what = f"how much sugar stays dissolved at {celsius:g} °C is not known"
        raise BadInput(what, remedy="Write it like 4 C.")
    return celsius


def _sweetened(items: Sequence[Ingredient], start: Floats, celsius: float) -> bool:
    """Whether sugar may be added: not beyond what stays dissolved."""
    wet = float(start[SUGAR] + start[WATER])
    clear = float(start[SUGAR]) <= float(solubility_mass_pct(celsius)) / 100 * wet
    return clear and any(item.is_kind("sugar") for item in items)


def _adder(item: Ingredient, step: float, start: Floats, bar: Bar) -> Adder:
    stocked = bar.stocked(item.key)
    most = MOST_ADDED * float(mass_g(start))
    if stocked is not None and stocked.on_hand is not None:
        per_gram = 1.0 if item.per == "g" else millilitres_per_gram(item)
        most = min(most, stocked.on_hand / per_gram)
    dear = DEAR_SPIRIT if item.abv.value > 0 else 1.0
    return Adder(item.name, tuple(float(x) for x in gram_of(item)), step, most, dear)


def _sugar(bar: Bar) -> Ingredient:
    """White sugar, or another dry sugar if the shelf only has that."""
    own = [s.ingredient for s in bar.stock if s.ingredient.is_kind("sugar") and s.on_hand != 0]
    white = bar.bottles.find("white-sugar")
    return white if white in own or not own or bar.shelf is None else own[0]


def _spirit(wish: BatchWish, bar: Bar) -> Ingredient:
    spirit = bar.bottles.find(wish.spirit or "vodka")
    if spirit.abv.value <= 0:
        raise BadInput(f"there is no alcohol in {spirit.name}", remedy="Choose a spirit.")
    return spirit


def _parts(text: str | None) -> tuple[float, float]:
    if text is None:
        return USUAL_ACIDS
    found = re.fullmatch(r"\s*([0-9.]+)\s*:\s*([0-9.]+)\s*", text)
    try:
        parts = (float(found[1]), float(found[2])) if found else (0.0, 0.0)
    except ValueError:
        parts = (0.0, 0.0)
    if sum(parts) <= 0:
        what = f"'{short(text)}' are no parts of citric and malic acid"
        raise BadInput(what, remedy="Write them like 2:1, citric acid first.")
    return parts
