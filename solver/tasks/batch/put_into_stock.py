"""Put a batch onto the shelf as an ingredient, and take its inputs off, in one write."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

from solver.drinks.in_the_bottle import certain_in_bottle
from solver.drinks.mixed_ahead import AS_STRONG, SAME, are_near
from solver.errors import BadInput, Where
from solver.files.read import ABSENT, version_at
from solver.files.toml import TomlText, parse_toml, read_toml
from solver.kitchen import batch as grams
from solver.mixture.ethanol import WATER_G_ML
from solver.mixture.numeric import Floats
from solver.pantry.bar import Bar
from solver.pantry.batches import BATCH, batch_name, is_batch_of
from solver.pantry.disclosure import Disclosure
from solver.pantry.figure import Figure
from solver.pantry.house_file import figure_values
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import by_key
from solver.pantry.shelf import Shelf
from solver.pantry.spec_lines import UNNAMED
from solver.quantities import show_count
from solver.tasks.batch.batch import Batch
from solver.tasks.batch.measured_amounts import MeasuredAmount
from solver.tasks.prep.as_ingredient import other_matter, rounded_shares
from solver.tasks.stock.beside import by_another_recipe, refuse_another_beside, standing
from solver.tasks.stock.house_figures import house_file
from solver.tasks.stock.made_batch import Made, MadeFrom, Produced, produced
from solver.tasks.stock.movement import shelf_of


def batch_stocking(batch: Batch, bar: Bar, *, again: bool = False) -> Produced:
    """What putting the batch onto the shelf would write.

    Raises:
        BadInput, BadInputs: as `produced`; the drink has no name, or its name is another's; a file
            would not be what it should be.
    """
    if batch.found.spec.name == UNNAMED:
        what = "a batch on the shelf needs the name of its drink"
        raise BadInput(what, remedy="Write the drink into a file of the folder specs first.")
    shelf = shelf_of(bar)
    needed = _needed(batch, bar)

    def enough_for(share: float) -> str:
        serves = int(batch.serves * share + 1e-9)
        return f"It is enough for {show_count(serves, 'serve')}."

    went_in = MadeFrom(
        units={item.key: units for item, units in needed},
        names={item.key: item.name for item, _ in needed},
        enough_for=enough_for,
        must_be_there=True,
    )
    item = batch_ingredient(batch, bar)
    _refuse_beside_another(batch, item, shelf, bar)
    file = _house_file(batch, bar, shelf)
    house = house_file(file, batch.key, _values(batch, item, file))
    made = Made(batch.volume_ml, batch.made, batch.kept.use_by, batch.cost, batch.vessels.size_ml)
    return produced(made, house, went_in, bar, again=again)


def _refuse_beside_another(batch: Batch, new: Ingredient, shelf: Shelf, bar: Bar) -> None:
    """Refuse a batch if what stands there is another drink: what is told of one is told of both.

    Raises:
        BadInput: it is.
    """
    refuse_another_beside(batch.key, batch.told, shelf, bar)
    row = standing(batch.key, shelf)
    if row is None:
        return
    there = row.ingredient
    if there.holds and not are_near(there.holds, new.holds, SAME):
        raise by_another_recipe(batch.key, "a serve of it holds other amounts")
    if there.serve_ml and not are_near(_of_a_serve(there), _of_a_serve(new), AS_STRONG):
        raise by_another_recipe(
            batch.key, f"a serve of it is {there.serve_ml:.0f} mL of {there.abv.value:.1f} % vol"
        )


def _of_a_serve(item: Ingredient) -> Mapping[str, float]:
    """The volume of a serve, and of its alcohol, mL."""
    each_ml = item.serve_ml or 0.0
    return {"serve": each_ml, "ethanol": each_ml * item.abv.value / 100.0}


def _needed(batch: Batch, bar: Bar) -> list[tuple[Ingredient, float]]:
    """Everything in the bottle, each ingredient once, in its own unit."""
    found: dict[str, tuple[Ingredient, float]] = {}
    pours = [(each.line.ingredient, each.units) for each in batch.lines]
    water = bar.bottles.get("water")
    if batch.water.ml and water is not None:
        pours.append((water, batch.water.ml))
    for item, units in pours:
        _, before = found.get(item.key, (item, 0.0))
        found[item.key] = (item, before + units)
    return list(found.values())


def _house_file(batch: Batch, bar: Bar, shelf: Shelf) -> TomlText:
    """The house file of the batch; with its name alone if there is none yet.

    Raises:
        BadInput: the name is another's.
    """
    path = (bar.root or shelf.sheet.path.parent) / "house" / f"{batch.key}.toml"
    there = bar.library.get(batch.key) or bar.recipe(batch.key)
    if version_at(path) == ABSENT:
        if there is not None:
            raise _taken_name(batch, path)
        heading = f"# A batch of {batch.found.spec.name}: written by `equipour batch --stock`.\n"
        text = f"{heading}[{batch.key}]\n"
        return TomlText(path, text, parse_toml(text, path))
    file = read_toml(path)
    name = batch.found.spec.name
    if not (isinstance(there, Ingredient) and there.origin == path and is_batch_of(there, name)):
        raise _taken_name(batch, path)
    return file


def _taken_name(batch: Batch, path: Path) -> BadInput:
    what = f"the name '{batch.key}' is taken by something that is no batch of it"
    return BadInput(what, where=Where(path), remedy="Give the drink another name.")


def _values(batch: Batch, item: Ingredient, file: TomlText) -> dict[str, Any]:
    """The content of the file."""
    before = file.data[batch.key]
    words = {
        "name": batch_name(batch.found.spec.name),
        "kind": BATCH,
        "character": list(dict.fromkeys(
            tag for each in batch.lines for tag in each.line.ingredient.character
        )),
    }  # fmt: skip
    inside = list(dict.fromkeys(each.line.ingredient.key for each in batch.lines))
    told = batch.told
    if told.allergens_not_known:  # those that are known would be in no list
        told = replace(told, may_contain=told.may_contain | told.allergens, allergens=frozenset())
    if told.animal_not_known:
        told = replace(told, may_animal=told.may_animal | told.animal, animal=frozenset())
    return words | figure_values(item, told, before) | {"made_of": inside}


def batch_ingredient(batch: Batch, bar: Bar) -> Ingredient:
    """The batch as an ingredient; its guest notice follows from what it is made of."""
    source = f"mixed {batch.made.isoformat()}, from the figures of what went in"
    contents = _contents(batch)
    bottle, life = batch.bottle, batch.kept.keeping.life
    of_a_serve = by_key(each.line for each in batch.lines)
    items = [each.line.ingredient for each in batch.lines]
    certain = certain_in_bottle(items, batch.found.spec, bar).holds
    told = batch.told
    acid = round(float(bottle.acid_g_100ml), 3)

    def figure(value: float, digits: int) -> Figure:
        return Figure(value=round(value, digits), basis="computed", source=source)

    return Ingredient(
        key=batch.key,
        name=batch_name(batch.found.spec.name),
        kind=BATCH,
        abv=figure(float(bottle.abv_pct), 3),
        sugar=figure(float(bottle.sugar_g_100ml), 3),
        acid=figure(acid, 3),
        acids=rounded_shares(grams.acid_shares(contents)) if acid else {},
        density=figure(float(bottle.density_g_ml), 5),
        other=other_matter(contents, source),
        allergens_source="from everything that goes into it",
        holds={key: round(amount, 3) for key, amount in of_a_serve.items()},
        serve_ml=round(batch.serve_ml, 2),
        technique=batch.found.technique,
        was_made_of=tuple(sorted(certain)),
        may_hold=tuple(sorted((told.holds | told.may_hold) - certain)),
        unclear=_unclear(told, bar),
        life=Figure(value=life.days, basis=life.basis, source=f"{life.why}: {life.source}"),
        tool="jigger",
    )


def _unclear(told: Disclosure, bar: Bar) -> tuple[str, ...]:
    """Words of what nobody knows, and of alcohol that no bottle here is called by."""
    may = (name for name in told.may_hold_alcohol if bar.bottles.get(name) is None)
    return tuple(dict.fromkeys((*told.unknown, *(() if told.alcohol else may))))


def _contents(batch: Batch) -> Floats:
    """Grams of everything in the bottle, acids separately: a batch of `solver.kitchen`."""
    total = np.zeros(len(grams.COLUMNS))
    for each in batch.lines:
        total += _grams(each)
    total[grams.WATER] += batch.water.ml * WATER_G_ML
    return total


def _grams(each: MeasuredAmount) -> Floats:
    item = each.line.ingredient
    return grams.from_composition(each.units * item.composition(), item.acids)
