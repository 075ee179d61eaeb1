"""Put a batch into stock: its figures into its house file, its bottle onto the shelf, its inputs
off it.

All contents are made and read back before any file is written.
"""

from __future__ import annotations

import math
from datetime import timedelta

from solver.pantry.bar import Bar
from solver.pantry.house_file import figure_values
from solver.pantry.not_ready_yet import days_to_wait
from solver.quantities import show_number
from solver.tasks.prep.prepare import Prep
from solver.tasks.prep.scale_batch import ScaledRecipe
from solver.tasks.stock.beside import refuse_another_beside
from solver.tasks.stock.house_figures import house_file
from solver.tasks.stock.made_batch import Made, MadeFrom, Produced, produced
from solver.tasks.stock.movement import shelf_of


def stocking(
    prep: Prep, bar: Bar, made: ScaledRecipe | None = None, *, again: bool = False
) -> Produced:
    """What putting the batch into stock would write; `made` is another amount of it.

    Raises:
        BadInput, BadInputs: as `produced`; what stands there is by another recipe; or a file would
            not be what it should be.
    """
    recipe = prep.recipe
    file = recipe.file
    refuse_another_beside(recipe.key, prep.told, shelf_of(bar), bar)
    within = tuple(sorted(prep.told.holds - {recipe.key}))
    item = prep.ingredient.model_copy(update={"was_made_of": within})
    values = figure_values(item, prep.told, file.data[recipe.key])
    house = house_file(file, recipe.key, values)
    times = [1.0] * len(prep.puts)
    if made is not None:
        times = [now / put.grams for now, put in zip(made.grams, prep.puts, strict=True)]
    units: dict[str, float] = {}
    for put, n in zip(prep.puts, times, strict=True):
        units[put.key] = units.get(put.key, 0.0) + n * put.units
    pairs = zip(prep.puts, times, strict=True)
    costs = [None if put.cost is None else n * put.cost for put, n in pairs]
    volume_ml = prep.figures.volume_ml.value if made is None else made.volume_ml
    cost = None if None in costs else math.fsum(each or 0.0 for each in costs)
    went_in = MadeFrom(units, {put.key: put.name for put in prep.puts}, _enough)
    stood = prep.made + timedelta(days=days_to_wait(recipe, bar.measures))
    ready = stood if stood > bar.today else None
    made_now = Made(volume_ml, prep.made, prep.use_by, cost, ready=ready)
    return produced(made_now, house, went_in, bar, again=again)


def _enough(share: float) -> str:
    return f"It is enough for {show_number(share, 2)} of it."
