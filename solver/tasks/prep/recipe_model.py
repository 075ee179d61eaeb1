"""Convert a house recipe to numbers: inputs, steps and readings, with the line of each mistake."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from solver.errors import BadInput, Where
from solver.files.checked import FileReading as Reader
from solver.files.toml import KeyPath
from solver.kitchen import practice
from solver.kitchen.batch import COLUMNS, ETHANOL, SUGAR, WATER, brix, liquid_g, mass_g
from solver.kitchen.cooking import Add, Boil, Cooking, Input, Step, Strain
from solver.kitchen.reconcile import BatchReading, ReadingKind
from solver.kitchen.steps import boil, strain
from solver.mixture.numeric import Floats
from solver.mixture.sucrose import COLDEST_CELSIUS, WARMEST_CELSIUS, density_kg_m3
from solver.pantry.recipe import Recipe, RecipeStep
from solver.quantities import Measures, parse
from solver.tasks.prep.inputs import PutIn

LEAST_SUGAR: Final = 0.1
"""Share of sugar by weight below which nobody would call a thing a syrup; a choice of ours."""
HALF_SUGAR: Final = 0.5
SHRINKS_ALIKE: Final = 0.1
"""Other syrups shrink on cooling by what one of 50 Brix does, to that share of it: from the same
polynomial."""
LEAST_G: Final = 10.0
"""Grams below which a batch is lost in the error of a kitchen scale."""
LEAST_WET: Final = 0.05
"""Share of water and alcohol in a liquid below which it would not run; honey has 0.17."""
COLDEST_READING: Final = 10.0
WARMEST_READING: Final = 40.0
"""Temperatures in °C between which the correction of a refractometer is known."""

Resolve = Callable[[str, str], tuple[PutIn, Input]]
"""Turns the name and the amount of an input, as written, into numbers; it may raise BadInput."""


@dataclass(frozen=True)
class Numbers:
    """A recipe as numbers; `places` are the keys of each reading within the recipe."""

    puts: tuple[PutIn, ...]
    cooking: Cooking
    readings: tuple[BatchReading, ...]
    places: tuple[KeyPath, ...]


def numbers_of(recipe: Recipe, resolve: Resolve, measures: Measures) -> Numbers:
    """The recipe as numbers.

    Raises:
        BadInput, BadInputs: everything that can't be read, is not known or can't be, with its line.
    """
    reader = Reader(recipe)
    puts: list[PutIn] = []
    inputs: list[Input] = []
    steps: list[Step] = []
    found: list[tuple[KeyPath, BatchReading]] = []

    def add(keys: KeyPath, name: str, amount: str) -> None:
        got = reader.take(keys, None, resolve, name, amount)
        if got is not None:
            puts.append(got[0])
            inputs.append(got[1])
            steps.append(Add(len(inputs) - 1))

    for name, amount in recipe.table.inputs.items():
        add(["inputs", name], name, amount)
    for index, step in enumerate(recipe.table.steps):
        keys: list[str | int] = ["steps", index]
        if step.ingredient is not None and step.amount is not None:
            add([*keys, "amount"], step.ingredient, step.amount)
        elif (loss := reader.take(keys, None, _loss, step, measures)) is not None:
            steps.append(loss)
            own = reader.take(keys, None, _weighed_loss, step, len(steps) - 1, measures)
            found += [([*keys, own.kind.value], own)] if own else []
    found += _finished(recipe, reader, measures)
    reader.finish()
    cooking = Cooking(tuple(inputs), tuple(steps))
    numbers = Numbers(
        tuple(puts), cooking, tuple(r for _, r in found), tuple(keys for keys, _ in found)
    )
    _check(recipe, numbers)
    return replace(numbers, cooking=_left_on_bowl(cooking, numbers.readings))


def _loss(step: RecipeStep, measures: Measures) -> Step | None:
    """The usual loss of a step; None if it loses nothing."""
    if step.do == "simmer":
        if step.time is None:
            usual = parse(step.lost or "", "mass", measures)
        else:
            usual = practice.SIMMER_G_MIN * parse(step.time, "time", measures)
        return Boil(usual, max(1.0, practice.SIMMER_SPREAD * usual))
    if step.do in ("strain", "fine-filter"):
        through = step.through or "paper"
        return Strain(
            practice.FILM_SHARE[through],
            practice.HELD_SPREAD,
            practice.PASSES[through],
        )
    if step.time is not None:
        parse(step.time, "time", measures)
    return None


def _left_on_bowl(cooking: Cooking, readings: Sequence[BatchReading]) -> Cooking:
    """A recipe that loses nothing, with what stayed on bowl and spoon if what came out weighs so
    much less than what went in."""
    weighed = [reading.value for reading in readings if reading.kind is ReadingKind.WEIGHT]
    if not weighed or not cooking.inputs or cooking.losses():
        return cooking
    whole = float(mass_g(cooking.usual().batch)[0])
    left = whole - weighed[0]
    if not 0 < left <= max(practice.BOWL_G, practice.BOWL_SHARE * whole):
        return cooking
    return Cooking(cooking.inputs, (*cooking.steps, Strain(left / whole, spread=0.1, passes=1.0)))


def _weighed_loss(step: RecipeStep, position: int, measures: Measures) -> BatchReading | None:
    if step.lost is not None:
        value = parse(step.lost, "mass", measures)
        return BatchReading(ReadingKind.LOST, value, _scale(value), position)
    if step.left is not None:
        value = parse(step.left, "mass", measures)
        return BatchReading(
            ReadingKind.LEFT, value, max(practice.WET_G, practice.WET_SHARE * value), position
        )
    return None


def _scale(grams: float) -> float:
    return max(practice.SCALE_G, practice.SCALE_SHARE * grams)


def _finished(
    recipe: Recipe, reader: Reader, measures: Measures
) -> list[tuple[KeyPath, BatchReading]]:
    """Readings of the finished batch with their accuracy: the recipe's own, else the usual."""
    table, own = recipe.table.measured, recipe.table.accuracy
    usual: dict[str, tuple[str, Callable[[float], float]]] = {
        "weight": ("mass", _scale),
        "volume": ("volume", lambda ml: max(practice.JUG_ML, practice.JUG_SHARE * ml)),
        "brix": ("brix", lambda _: practice.REFRACTOMETER_BRIX),
    }
    found: list[tuple[KeyPath, BatchReading]] = []
    for name, (quantity, accuracy) in usual.items():
        text, stated = getattr(table, name), getattr(own, name)
        if text is None:
            continue
        value = reader.take(["measured", name], math.nan, parse, text, quantity, measures)
        sd = accuracy(value)
        if stated is not None:
            sd = reader.take(["accuracy", name], sd, _positive, stated, quantity, measures)
        if value == 0:
            reader.refuse(["measured", name], BadInput(f"a {name} of nothing came out"))
        at = {"brix": table.brix_at, "volume": table.volume_at}.get(name)
        if at is not None:
            to_20 = _brix_at_20 if name == "brix" else _volume_at_20
            keys = ["measured", f"{name}_at"]
            value, sd = reader.take(keys, (value, sd), to_20, value, sd, at, measures)
        found.append((["measured", name], BatchReading(ReadingKind(name), value, sd)))
    return found


def _positive(text: str, quantity: str, measures: Measures) -> float:
    value = parse(text, quantity, measures)
    if value <= 0:
        raise BadInput("nothing is measured without error", remedy="Give how far it may be off.")
    return value


def _brix_at_20(value: float, sd: float, text: str, measures: Measures) -> tuple[float, float]:
    """A Brix converted to 20 °C, and its standard deviation."""
    celsius = parse(text, "temperature", measures)
    if not COLDEST_READING <= celsius <= WARMEST_READING:
        what = f"a Brix read at {celsius:g} °C cannot be corrected"
        why = f"the correction is known from {COLDEST_READING:g} to {WARMEST_READING:g} °C"
        raise BadInput(what, why=why, remedy="Let a drop cool, and read it again.")
    change = practice.BRIX_PER_CELSIUS * (celsius - 20.0)
    return value + change, math.hypot(sd, practice.BRIX_PER_CELSIUS_SHARE * change)


def _volume_at_20(value: float, sd: float, text: str, measures: Measures) -> tuple[float, float]:
    """A volume converted to 20 °C, and its standard deviation."""
    celsius = parse(text, "temperature", measures)
    if not COLDEST_CELSIUS <= celsius <= WARMEST_CELSIUS:
        what = f"a volume measured at {celsius:g} °C cannot be corrected"
        raise BadInput(what, remedy="Let it cool, and measure it again.")
    hot, cold = (float(density_kg_m3(HALF_SUGAR, t)) for t in (celsius, 20.0))
    return value * hot / cold, math.hypot(sd, SHRINKS_ALIKE * abs(1 - hot / cold) * value)


def _check(recipe: Recipe, numbers: Numbers) -> None:
    """Refuse impossible steps and readings, along the steps with their usual losses.

    Raises:
        BadInput: a step or a reading that cannot be, with its line.
    """
    lines = dict(_step_lines(recipe))
    readings = {r.step: r for r in numbers.readings if r.step is not None}
    pan = np.zeros(len(COLUMNS))
    for position, step in enumerate(numbers.cooking.steps):
        if isinstance(step, Add):
            item = numbers.cooking.inputs[step.input]
            pan = pan + item.grams * np.array(item.per_gram)
            continue
        where = recipe.where(lines[position])
        reading = readings.get(position)
        if isinstance(step, Boil):
            _check_boil(pan, reading, where=recipe.where([*lines[position], "lost"]))
            if pan[ETHANOL] > 0:
                what = "there is alcohol in the pan that simmers"
                why = "it leaves before the water, nobody knows how fast, and its vapour burns"
                remedy = (
                    "Add it after the pan has cooled, as a step fortify; or leave the simmering"
                    " out: sugar dissolves in warm beer or wine."
                )
                raise BadInput(what, where=where, why=why, remedy=remedy)
            share = min(0.9, (reading.value if reading else step.grams) / max(pan[WATER], 1e-9))
            pan, _ = boil(pan, share)
        else:
            _check_strain(pan, reading, where=recipe.where([*lines[position], "left"]))
            pan, _ = strain(pan, 0.05, step.passes)
    _check_result(recipe, numbers, pan)


def _step_lines(recipe: Recipe) -> Sequence[tuple[int, list[str | int]]]:
    """The position of each step among the kitchen's steps, and its keys."""
    position = len(recipe.table.inputs)
    found: list[tuple[int, list[str | int]]] = []
    for index, step in enumerate(recipe.table.steps):
        if step.do in ("steep", "cool"):
            continue
        found.append((position, ["steps", index]))
        position += 1
    return found


def _check_boil(pan: Floats, reading: BatchReading | None, where: Where) -> None:
    water = float(pan[WATER])
    if reading is not None and reading.value > water + 3 * reading.sd:
        what = f"{reading.value:.0f} g steamed off, and there were {water:.0f} g of water in it"
        raise BadInput(what, where=where, remedy="Weigh the pan before and after.")


def _check_strain(pan: Floats, reading: BatchReading | None, where: Where) -> None:
    whole = float(mass_g(pan))
    if reading is not None and reading.value > whole + 3 * reading.sd:
        what = f"{reading.value:.0f} g stayed in the strainer, and {whole:.0f} g went into it"
        raise BadInput(what, where=where, remedy="Take off the weight of the strainer.")


def _check_result(recipe: Recipe, numbers: Numbers, pan: Floats) -> None:
    went_in = sum(item.grams for item in numbers.cooking.inputs)
    if float(mass_g(pan)) < LEAST_G:
        what = f"hardly anything comes out of {recipe.dish.name}"
        why = f"{went_in:g} g go in, and {float(mass_g(pan)):.3g} g are left"
        raise BadInput(what, where=recipe.where(["inputs"]), why=why, remedy="Check the units.")
    for keys, reading in zip(numbers.places, numbers.readings, strict=True):
        where = recipe.where(keys)
        if reading.kind is ReadingKind.BRIX and pan[ETHANOL] > 0:
            what = "a Brix reading tells nothing here"
            why = "the alcohol bends the light too"
            remedy = "Read it before the spirit goes in, or weigh a measured volume."
            raise BadInput(what, where=where, why=why, remedy=remedy)
        if reading.kind is ReadingKind.WEIGHT and reading.value > went_in + 3 * reading.sd + 3:
            what = f"{reading.value:.0f} g came out and {went_in:.0f} g went in"
            why = "nothing in a kitchen makes weight"
            raise BadInput(what, where=where, why=why, remedy="Take off the weight of the pan.")
    _check_dissolved(recipe, numbers)
    if pan[WATER] + pan[ETHANOL] < LEAST_WET * float(liquid_g(pan)):
        what = f"what comes out of {recipe.dish.name} is no liquid"
        why = f"{float(pan[WATER]):.0f} g of water are in {float(mass_g(pan)):.0f} g"
        raise BadInput(what, where=recipe.where(["inputs"]), why=why, remedy="Add the water.")
    if recipe.dish.kind.startswith("syrup/") and pan[SUGAR] < LEAST_SUGAR * float(mass_g(pan)):
        what = f"there is hardly any sugar in {recipe.dish.name}"
        why = f"{float(pan[SUGAR]):.0f} g of {float(mass_g(pan)):.0f} g are sugar"
        where = recipe.file.where([recipe.key, "kind"])
        remedy = "Add the sugar to the inputs, or give it another kind."
        raise BadInput(what, where=where, why=why, remedy=remedy)


def _check_dissolved(recipe: Recipe, numbers: Numbers) -> None:
    """Refuse a Brix that implies more sugar than went in.

    Raises:
        BadInput: weight and Brix together hold more than was there to dissolve.
    """
    read = {reading.kind: reading for reading in numbers.readings}
    if ReadingKind.WEIGHT not in read or ReadingKind.BRIX not in read:
        return
    weight, shown = read[ReadingKind.WEIGHT], read[ReadingKind.BRIX]
    whole = numbers.cooking.everything()
    there = float(brix(whole) * liquid_g(whole)) / 100.0
    needed = weight.value * shown.value / 100.0
    sure = 3.0 * math.hypot(weight.value * shown.sd / 100.0, 0.02 * there)
    if needed > there + sure:
        what = f"{weight.value:.0f} g at {shown.value:.1f} Brix hold {needed:.0f} g of sugar"
        why = f"{there:.0f} g went in, with all else that dissolves"
        where = recipe.where(["measured", "brix"])
        raise BadInput(what, where=where, why=why, remedy="Read the Brix and the weight again.")
