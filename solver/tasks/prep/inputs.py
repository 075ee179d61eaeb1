"""Inputs of a recipe: from an ingredient and an amount as written to grams with their deviation."""

from __future__ import annotations

from dataclasses import dataclass

from solver.errors import BadInput
from solver.kitchen import practice
from solver.kitchen.batch import ETHANOL, SUGAR, from_composition, mass_g, titratable_g
from solver.kitchen.cooking import Input
from solver.mixture.ethanol import ETHANOL_G_ML
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.pieces import Pieces
from solver.quantities import WrittenAmount, parse_pour


@dataclass(frozen=True)
class PutIn:
    """An input as written, in grams, in the unit that it is bought in, and its cost.

    `cost` is None if no price is known. `assumed` says how a volume or a count was converted to a
    weight, if that was a guess.
    """

    name: str
    key: str
    written: str
    grams: float
    grams_sd: float
    units: float
    unit: str
    cost: float | None
    assumed: str = ""


def put_in(ingredient: Ingredient, written: str, bar: Bar) -> tuple[PutIn, Input]:
    """Read an input: for people, and as input of the kitchen's arithmetic.

    Raises:
        BadInput: the amount can't be read, is nothing, or does not fit what it is of.
    """
    pour = parse_pour(written, bar.measures)
    if pour.value <= 0:
        raise BadInput(f"no {ingredient.name} goes in", remedy="Leave the line out.")
    grams, sd, assumed = _weighed(ingredient, pour, bar.bottles.pieces)
    gram = gram_of(ingredient)
    units = grams if ingredient.per == "g" else grams * millilitres_per_gram(ingredient)
    put = PutIn(
        name=ingredient.name,
        key=ingredient.key,
        written=written,
        grams=grams,
        grams_sd=sd,
        units=units,
        unit=ingredient.unit,
        cost=_cost(ingredient, units, bar),
        assumed=assumed,
    )
    return put, _known(ingredient, gram, grams, sd)


def gram_of(ingredient: Ingredient) -> Floats:
    """The composition of one gram of an ingredient, as a batch.

    Raises:
        BadInput: its figures contradict each other.
    """
    dry = ingredient.insoluble.value / 100 if ingredient.insoluble else 0.0
    batch = from_composition(ingredient.composition(), dict(ingredient.acids), dry)
    gram: Floats = batch / float(mass_g(batch))
    return gram


def millilitres_per_gram(ingredient: Ingredient) -> float:
    """Millilitres, as poured, of one gram of something that is not weighed at the bar."""
    from solver.mixture.blend import mass_g as blend_g

    return 1.0 / float(blend_g(ingredient.composition()))


def _weighed(
    ingredient: Ingredient, pour: WrittenAmount, pieces: Pieces
) -> tuple[float, float, str]:
    """Grams, their standard deviation, and any assumption."""
    if pour.unit == "g":
        return pour.value, max(practice.SCALE_G, practice.SCALE_SHARE * pour.value), ""
    if ingredient.per == "ml":
        ml = ingredient.units(pour)
        grams = ml / millilitres_per_gram(ingredient)
        return grams, practice.POUR_SHARE * grams, ""
    if (each := pieces.one(ingredient, pour)) is not None:
        return _by_the_piece(ingredient, pour, each)
    if pour.weight_g is not None:
        grams = pour.weight_g
        said = f"{ingredient.name}, {pour.said}: taken as ounces of weight, {grams:.0f} g in all"
        return grams, max(practice.SCALE_G, practice.SCALE_SHARE * grams), said
    bulk = ingredient.bulk
    if pour.unit != "ml" or bulk is None:
        what = f"'{pour.said}' of {ingredient.name} cannot be turned into a weight"
        why = "" if pour.unit != "ml" else "nobody has said how heavy a cup of it is"
        raise BadInput(
            what, why=why, remedy=f"Weigh it: write it like {ingredient.weight_like(pour)}."
        )
    grams = pour.value * bulk.value
    low, high = bulk.low or bulk.value * 0.9, bulk.high or bulk.value * 1.1
    took, least, most = map(_rounded, (grams, low * pour.value, high * pour.value))
    assumed = (
        f"{pour.said} of {ingredient.name} was taken as {took} g, at {bulk.value:g} g/mL "
        f"({bulk.source}); it may weigh {least} to {most} g. By weight is another syrup: weigh it"
    )
    return grams, (high - low) / 4 * pour.value, assumed


def _by_the_piece(
    ingredient: Ingredient, pour: WrittenAmount, each: Figure
) -> tuple[float, float, str]:
    """As `_weighed`, for counted pieces of `each` g."""
    low = each.value * 0.75 if each.low is None else each.low
    high = each.value * 1.25 if each.high is None else each.high
    grams = pour.value * each.value
    values = (each.value, grams, low * pour.value, high * pour.value)
    one, took, least, most = map(_rounded, values)
    assumed = (
        f"{ingredient.name}, {pour.said}: taken as {took} g, at {one} g each ({each.source}); "
        f"{least} to {most} g are usual, so weigh it"
    )
    return grams, (high - low) / 4 * pour.value, assumed


def _rounded(grams: float) -> str:
    return f"{grams:.0f}" if grams >= 10 else f"{grams:.2g}"


def _known(ingredient: Ingredient, gram: Floats, grams: float, sd: float) -> Input:
    """The input with the standard deviations of its figures, all per gram."""
    per_unit = 1.0 if ingredient.per == "g" else millilitres_per_gram(ingredient)
    sugar = _spread(ingredient.sugar) / 100 * per_unit
    if ingredient.per == "g" and not ingredient.moisture:
        sugar = min(sugar, max(0.0, 1.0 - float(gram[SUGAR])) / 2)
    acid = _spread(ingredient.acid) / 100 * per_unit if titratable_g(gram) > 0 else 0.0
    ethanol = practice.ABV_PCT / 100 * ETHANOL_G_ML * per_unit if gram[ETHANOL] > 0 else 0.0
    return Input(
        name=ingredient.name,
        grams=grams,
        grams_sd=sd,
        per_gram=tuple(float(x) for x in gram),
        sugar_sd=sugar,
        acid_sd=acid,
        ethanol_sd=ethanol,
        holds=_holds(ingredient),
    )


def _holds(ingredient: Ingredient) -> float:
    """Liquid that stays in its strained solids, g/g."""
    kinds = practice.HELD_BY_KIND.items()
    own = (held for kind, held in kinds if ingredient.is_kind(kind))
    return next(own, practice.HELD_G_PER_G)


def _spread(figure: Figure) -> float:
    """The standard deviation of a figure: a quarter of its range, else by its basis."""
    if figure.low is not None and figure.high is not None and figure.high > figure.low:
        return (figure.high - figure.low) / 4
    return practice.SPREAD_BY_BASIS[figure.basis] * figure.value


def _cost(ingredient: Ingredient, units: float, bar: Bar) -> float | None:
    stocked = bar.stocked(ingredient.key)
    price = stocked.price_per_unit if stocked else None
    if price is None and ingredient.is_kind("water"):
        price = 0.0
    return None if price is None else price * units
