"""Evaluate a recipe with its measurements: yield, strength, cost, life, allergens."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from solver.errors import BadInput
from solver.files.near_words import near_words
from solver.kitchen import practice
from solver.kitchen.batch import (
    INSOLUBLE,
    brix,
    mass_g,
)
from solver.kitchen.cooking import Add, Boil, Cooked, Cooking, Input, Strain
from solver.kitchen.reconcile import BatchReading, Fit, ReadingKind, reconcile
from solver.mixture.boiling import boiling_celsius
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.disclosure import Disclosure, with_told
from solver.pantry.ingredient import Ingredient
from solver.pantry.recipe import Recipe
from solver.pantry.recipe_inputs import everything_in, house_key
from solver.pantry.stocked_as import stocked_as
from solver.pantry.unit_price import Priced, UnitPrice
from solver.printable import short
from solver.quantities import parse_pour
from solver.tasks.prep.as_ingredient import as_ingredient
from solver.tasks.prep.batch_figures import Estimate, Figures, figures_of
from solver.tasks.prep.contradictions import refuse_clashes
from solver.tasks.prep.inputs import PutIn, put_in
from solver.tasks.prep.recipe_model import Numbers, numbers_of
from solver.tasks.prep.shelf_life import Keeping, keeping_of

TELLING_BRIX = (30.0, 80.0)
"""Brix between which the boiling point says something: water boils below, candy above."""


@dataclass(frozen=True)
class StepLoss:
    """The loss of a step in grams: steam, or strained solids with `solids_g` undissolved matter.

    `boils_celsius` is the boiling point at the end of a simmer, at sea level; None if it is
    unknown, or the step is no simmer.
    """

    step: str
    grams: Estimate
    usual: Estimate
    solids_g: float
    weighed: bool
    boils_celsius: float | None


@dataclass(frozen=True)
class CheckedReading:
    """A reading, and its value in the best fit."""

    reading: BatchReading
    fitted: float


@dataclass(frozen=True)
class Prep:
    """A house ingredient as computed from its recipe and measurements.

    `measured` is true if anything was weighed or read; otherwise the figures are an expected range.
    `brix_unboiled` and `brix_unstrained` are the Brix if nothing had evaporated, or been strained
    off. `cost` is of the batch; None if `unpriced` names inputs without a price. `told` is its
    disclosure to a guest, with everything that goes into it.
    """

    recipe: Recipe
    puts: tuple[PutIn, ...]
    numbers: Numbers
    fit: Fit
    batch: Floats
    figures: Figures
    losses: tuple[StepLoss, ...]
    checked: tuple[CheckedReading, ...]
    brix_unboiled: float
    brix_unstrained: float
    cost: float | None
    unpriced: tuple[str, ...]
    ingredient: Ingredient
    told: Disclosure
    keeping: Keeping
    made: date

    @property
    def measured(self) -> bool:
        """Whether anything was measured."""
        return bool(self.checked)

    @property
    def use_by(self) -> date:
        """The last day of its planned use."""
        return self.keeping.life.ends(self.made)

    @property
    def assumed(self) -> tuple[str, ...]:
        """Assumptions about amounts."""
        return tuple(put.assumed for put in self.puts if put.assumed)


def find_recipe(name: str, bar: Bar) -> Recipe:
    """The house recipe of that key, name or alias.

    Raises:
        BadInput: there is none.
    """
    if (recipe := bar.recipe(name)) is not None:
        return recipe
    what = f"there is no recipe for '{short(name)}' in this bar"
    remedy = (
        f"Recipes: {', '.join(bar.recipes)}."
        if bar.recipes
        else "Write one, like `equipour recipe 'my syrup' '500 g sugar' '500 g water'`."
    )
    raise BadInput(what, near=near_words(name, bar.recipes), remedy=remedy)


def prepare(recipe: Recipe, bar: Bar, today: date, made_on: date | None = None) -> Prep:
    """Evaluate a recipe, made on the given day, else on that of its file, else `today`.

    Raises:
        BadInput, BadInputs: the recipe is wrong, or its measurements contradict each other.
    """
    made: dict[str, Prep] = {}
    for key in _unbottled_within(recipe, bar):
        made[key] = _prepared(bar.recipes[key], bar, today, made)
    return _prepared(recipe, bar, today, made, made_on)


def price_by_recipe(batch: Prep) -> UnitPrice | None:
    """The cost of one mL of a batch; None if an input has no price."""
    if batch.cost is None:
        return None
    return UnitPrice(batch.cost / batch.figures.volume_ml.value, Priced.RECIPE)


def _unbottled_within(recipe: Recipe, bar: Bar) -> list[str]:
    """Keys of inputs that are in no bottle yet, on all levels, each after its own inputs."""
    found: set[str] = set()
    open_ends = [recipe]
    while open_ends:
        for _, name, _ in open_ends.pop().named():
            below = house_key(name, bar.recipes, bar.library)
            if below is not None and not bar.recipes[below].stated and below not in found:
                found.add(below)
                open_ends.append(bar.recipes[below])
    # What nothing is said to go into waits for nothing.
    order = {key: at for at, key in enumerate(bar.inputs)}
    return sorted(found, key=lambda key: order.get(key, -1))


def _prepared(
    recipe: Recipe, bar: Bar, today: date, made: Mapping[str, Prep], made_on: date | None = None
) -> Prep:
    """As `prepare`; `made` has the inputs that are in no bottle yet."""

    def resolve(name: str, amount: str) -> tuple[PutIn, Input]:
        below = house_key(name, bar.recipes, bar.library)
        if below is not None and below in made:
            return _put_prep(made[below], amount, bar)
        item = stocked_as(name, [amount], bar.bottles) or bar.bottles.find(name)
        return put_in(item, amount, bar)

    numbers = numbers_of(recipe, resolve, bar.measures)
    refuse_clashes(recipe, numbers)
    return _result(recipe, numbers, bar, made_on or recipe.table.made or today)


def _put_prep(prep: Prep, amount: str, bar: Bar) -> tuple[PutIn, Input]:
    """Another house ingredient as an input, from its recipe, as it is in no bottle yet."""
    pour = parse_pour(amount, bar.measures)
    figures = prep.figures
    grams = pour.value if pour.unit == "g" else pour.value * figures.density_g_ml.value
    if pour.unit not in ("g", "ml") or grams <= 0:
        what = f"'{pour.said}' of {prep.recipe.dish.name} is no amount"
        raise BadInput(what, remedy="Write it like 200 g or 150 ml.")
    sd = max(practice.SCALE_G, practice.SCALE_SHARE * grams)
    if pour.unit == "ml":
        sd = practice.POUR_SHARE * grams
    per_ml = 100.0 * figures.density_g_ml.value
    share = grams / figures.mass_g.value
    put = PutIn(
        name=prep.recipe.dish.name,
        key=prep.recipe.key,
        written=amount,
        grams=grams,
        grams_sd=sd,
        units=grams / figures.density_g_ml.value,
        unit="mL",
        cost=None if prep.cost is None else prep.cost * share,
    )
    item = Input(
        name=put.name,
        grams=grams,
        grams_sd=sd,
        per_gram=tuple(float(x) for x in prep.batch / float(mass_g(prep.batch))),
        sugar_sd=figures.sugar_g_100ml.sd / per_ml,
        acid_sd=figures.acid_g_100ml.sd / per_ml,
    )
    return put, item


def _result(recipe: Recipe, numbers: Numbers, bar: Bar, made: date) -> Prep:
    cooking = numbers.cooking
    fit = reconcile(cooking, numbers.readings)
    outcome = cooking.run(fit.scores[np.newaxis])
    figures = figures_of(numbers.cooking, fit)
    unpriced = tuple(put.name for put in numbers.puts if put.cost is None)
    inputs = everything_in(recipe.key, bar.inputs, bar.library, {*bar.recipes, *bar.house})
    keeping = keeping_of(
        inputs,
        strained=recipe.table.strains,
        brix=figures.brix.value,
        sugar_g_100ml=figures.sugar_g_100ml.value,
        acid_g_100ml=figures.acid_g_100ml.value,
        abv_pct=figures.abv_pct.value,
        activity=figures.activity.value,
    )
    item = as_ingredient(recipe, figures, outcome.batch[0], keeping, made)
    told = bar.told_of(item)
    return Prep(
        recipe=recipe,
        puts=numbers.puts,
        numbers=numbers,
        fit=fit,
        batch=outcome.batch[0],
        figures=figures,
        losses=_losses(recipe, numbers, fit),
        checked=tuple(CheckedReading(r, float(r.predicted(outcome)[0])) for r in numbers.readings),
        brix_unboiled=_brix_without(Boil, cooking, fit),
        brix_unstrained=_brix_without(Strain, cooking, fit),
        cost=None if unpriced else math.fsum(put.cost or 0.0 for put in numbers.puts),
        unpriced=unpriced,
        ingredient=with_told(item, told),
        told=told,
        keeping=keeping,
        made=made,
    )


def _brix_without(loss: type[Boil] | type[Strain], cooking: Cooking, fit: Fit) -> float:
    """The Brix of the best fit if steps of one kind had lost nothing."""
    low, _ = cooking.bounds()
    scores = fit.scores.copy()
    losing = (step for step in cooking.steps if not isinstance(step, Add))
    for at, step in zip(cooking.losses(), losing, strict=True):
        if isinstance(step, loss):
            scores[at] = low[at]
    return float(brix(cooking.run(scores[np.newaxis]).batch)[0])


def _losses(recipe: Recipe, numbers: Numbers, fit: Fit) -> tuple[StepLoss, ...]:
    cooking = numbers.cooking
    usual = Fit(np.zeros(cooking.unknowns), np.eye(cooking.unknowns), 0.0)
    said = [step for step in recipe.table.steps if step.do not in ("steep", "cool")]
    found: list[StepLoss] = []
    for position, step in enumerate(cooking.steps):
        at = position - len(recipe.table.inputs)
        if not isinstance(step, Boil | Strain) or at >= len(said):  # on the bowl: in no step
            continue
        kind = ReadingKind.LOST if isinstance(step, Boil) else ReadingKind.LEFT
        reading = BatchReading(kind, 0.0, 1.0, position)

        def grams(outcome: Cooked, reading: BatchReading = reading) -> Floats:
            return reading.predicted(outcome)[:, np.newaxis]

        values = [
            Estimate(float(v[0]), float(s[0]))
            for v, s in (f.figures(cooking, grams) for f in (fit, usual))
        ]
        done = cooking.run(fit.scores[np.newaxis])
        left = done.left.get(position)
        words = said[at]
        found.append(
            StepLoss(
                step=words.do if words.through is None else f"{words.do} ({words.through})",
                grams=values[0],
                usual=values[1],
                solids_g=0.0 if left is None else float(left[0, INSOLUBLE]),
                weighed=words.lost is not None or words.left is not None,
                boils_celsius=_boils(done.boiled_brix.get(position)),
            )
        )
    return tuple(found)


def _boils(brix_left: Floats | None) -> float | None:
    if brix_left is None or not TELLING_BRIX[0] <= brix_left[0] <= TELLING_BRIX[1]:
        return None
    return boiling_celsius(float(brix_left[0]))
