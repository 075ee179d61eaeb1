"""A drink mixed ahead: its pours times the serves, with water in place of melt.

Batch and additions at service come to the single drink, up to the measuring steps: water in the
bottle replaces melt, and the rest of the melt comes from the ice of service. Finish, vessels and
pouring order are common practice, no source.
"""

from __future__ import annotations

import enum
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from solver.drinks.assess import Assessment, assess
from solver.drinks.in_the_bottle import certain_in_bottle, told_in_bottle
from solver.errors import BadInput
from solver.mixture.blend import COLUMNS, LABEL, WATER, Finished, measure
from solver.mixture.ethanol import WATER_G_ML
from solver.mixture.freezing import COLDEST_CELSIUS, WARMEST_CELSIUS, Chilled, chilled
from solver.mixture.numeric import Floats, root
from solver.pantry.bar import Bar
from solver.pantry.batches import batch_key
from solver.pantry.disclosure import Disclosure
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.spec import Spec
from solver.pantry.vessels import HEADSPACE, Vessel, smallest_for
from solver.quantities import show_temperature
from solver.tasks.batch.batch_shelf_life import SPOILING, BatchLife, batch_life
from solver.tasks.batch.left_out import SPOILS_FIRST, LeftOut, is_made_with_ice, wait_of
from solver.tasks.batch.measured_amounts import (
    ML_STEP,
    MeasuredAmount,
    ScaleStep,
    measured,
    order_to_pour,
)
from solver.tasks.batch.size import Size

BRIEF: Final = 0.5
"""Share of the melt that is put in as water where the batch is stirred until just cold: common
practice, no source."""
MOST_WATER_PCT: Final = 90.0
SLACK: Final = 0.01
"""Share of a bottle by which it may be overfilled by rounding, rather than open another."""
_STIRRED: Final = ("stir", "stir-top", "throw")


@enum.unique
class Finish(enum.StrEnum):
    """How a serve of the batch meets ice."""

    NEVER = "never"
    """It does not, or is cold when it does: all of the water is in the bottle."""
    BRIEFLY = "briefly"
    """It is stirred until just cold: half of the water is in the bottle."""
    AGAIN = "again"
    """It is made on ice like the drink itself: no water is in the bottle."""

    @property
    def share(self) -> float:
        """The share of the melt that is added to the bottle as water."""
        return {Finish.NEVER: 1.0, Finish.BRIEFLY: BRIEF, Finish.AGAIN: 0.0}[self]


@dataclass(frozen=True)
class Water:
    """Water in the bottle in mL: as measured, and for the least and the most melt of practice.

    `amount` is the same in the unit of the step, mL or g; `asked` is true if a share of water was
    asked for. `least_ml` and `most_ml` are None if the spread of melt is unknown.
    """

    ml: float
    amount: float
    least_ml: float | None
    most_ml: float | None
    asked: bool = False


@dataclass(frozen=True)
class Vessels:
    """The vessels of a batch. `size_ml` is None if no bottle size was given.

    `count` bottles are filled to the share `filled`, the last one with `last_ml`. It has to be
    mixed in `mix_in_ml` or more; `mix_in` is the bar's own vessel that fits, if it names its
    vessels.
    """

    size_ml: float | None
    count: int
    last_ml: float
    mix_in_ml: float
    keg: bool
    filled: float = 1.0
    mix_in: Vessel | None = None

    @property
    def room_ml(self) -> float | None:
        """The content of a full vessel in mL; None if no size was given."""
        return None if self.size_ml is None else self.filled * self.size_ml


@dataclass(frozen=True, eq=False)
class Batch:
    """A batch, its lines in pouring order; volumes are at 20 °C unless stated otherwise.

    `serves` may be fractional if a volume was asked for. `composition` is of the whole batch;
    `bottle` its measures; `glass` those of a finished serve, with `ice_ml` of melt from the ice of
    service. `poured_ml` is the sum of volumes before contraction. `cold` is the whole batch at the
    temperature asked for. `cost` is of the bottle's content.
    """

    found: Assessment
    key: str
    made: date
    serves: float
    finish: Finish
    step: ScaleStep
    lines: tuple[MeasuredAmount, ...]
    water: Water
    left_out: tuple[LeftOut, ...]
    composition: Floats
    bottle: Finished
    glass: Finished
    ice_ml: float
    poured_ml: float
    vessels: Vessels
    cold: Chilled | None
    kept: BatchLife
    told: Disclosure
    cost: float | None

    @property
    def volume_ml(self) -> float:
        """The volume of the whole batch."""
        return float(self.bottle.volume_ml)

    @property
    def serve_ml(self) -> float:
        """The volume of one serve."""
        return self.volume_ml / self.serves

    @property
    def cold_serve_ml(self) -> float | None:
        """The volume of one serve at the cold temperature; None if there is none."""
        return None if self.cold is None else self.cold.volume_ml / self.serves

    @property
    def contraction_pct(self) -> float:
        """The loss of volume on mixing, in per cent of the volume poured."""
        return 100.0 * (self.poured_ml - self.volume_ml) / self.poured_ml

    @property
    def water_pct(self) -> float:
        """Added water, in per cent of the volume."""
        return 100.0 * self.water.ml / self.volume_ml


def batch_of(
    spec: Spec,
    bar: Bar,
    size: Size,
    *,
    made: date,
    technique: str | None = None,
    on_ice: Finish | None = None,
    celsius: float | None = None,
    water_pct: float | None = None,
    step: ScaleStep = ML_STEP,
) -> Batch:
    """The batch of a spec; `celsius` is its serving temperature, None if not stated.

    `water_pct` is a share of water in place of the melt: the drink then differs from the single
    one.

    Raises:
        BadInput, BadInputs: as `assess`; nothing of the drink can wait in a bottle; the temperature
            is none that is known; so much water is no drink, or is asked for twice.
    """
    _check_water(water_pct, on_ice)
    if celsius is not None and not COLDEST_CELSIUS <= celsius <= WARMEST_CELSIUS:
        said, least, most = (
            show_temperature(each, fahrenheit=bar.fahrenheit)
            for each in (celsius, COLDEST_CELSIUS, WARMEST_CELSIUS)
        )
        what = f"{said} is no temperature of a fridge or freezer that is known here"
        remedy = f"Give one from {least} to {most}."
        raise BadInput(what, remedy=remedy)
    if celsius is not None and celsius < 0 and not size.keg:
        size = size.for_freezer()
    found = assess(spec, bar, technique=technique)
    waits = [(line, wait_of(line, found.technique)) for line in found.lines]
    left_out = tuple(LeftOut(line, why) for line, why in waits if why is not None)
    inside = tuple(line for line, why in waits if why is None)
    if not inside:
        what = f"nothing of {spec.name} can wait in a bottle"
        why = "all of it is fresh, hot or fizzy"
        raise BadInput(what, why=why, remedy="Make it drink by drink.")
    if water_pct is None:
        finish = on_ice or _usual_finish(found, left_out, celsius)
        each_ml = float(found.drink.melt_ml) * finish.share
    else:
        finish, each_ml = Finish.NEVER, _share_ml(inside, water_pct)
    serves = size.serves or (size.volume_ml or 0.0) / _volume_ml(inside, each_ml)
    parts = _Parts(
        serves=serves,
        finish=finish,
        step=step,
        lines=tuple(measured(line, serves, step, bar) for line in inside),
        water=_water(found, each_ml * serves, step, asked=water_pct is not None),
        left_out=left_out,
    )
    return _mixed(found, parts, size, made, celsius, bar)


def _check_water(water_pct: float | None, on_ice: Finish | None) -> None:
    if water_pct is None:
        return
    if on_ice not in {None, Finish.NEVER}:
        what = "so much water in the bottle leaves nothing to melt at service"
        raise BadInput(what, remedy="Give --water or --on-ice, not both.")
    if water_pct > MOST_WATER_PCT:
        what = f"{water_pct:g} % of water is no drink any more"
        raise BadInput(what, remedy="Write it like 22%.")


@dataclass(frozen=True)
class _Parts:
    """What goes into the bottle and what is added at service."""

    serves: float
    finish: Finish
    step: ScaleStep
    lines: tuple[MeasuredAmount, ...]
    water: Water
    left_out: tuple[LeftOut, ...]


def _mixed(
    found: Assessment, parts: _Parts, size: Size, made: date, celsius: float | None, bar: Bar
) -> Batch:
    lines, water = parts.lines, parts.water
    composition = _composition(((line.line, line.units) for line in lines), water.ml)
    bottle = measure(composition)
    ice_ml = float(found.drink.melt_ml) * (1.0 - parts.finish.share)
    added = _composition(((left.line, left.line.amount) for left in parts.left_out), ice_ml)
    cold = None if celsius is None else chilled(composition, celsius)
    volume_ml = float(bottle.volume_ml)
    costs = [None if m.line.cost is None else m.line.cost * m.times for m in lines]
    items = tuple(m.line.ingredient for m in lines)
    return Batch(
        found=found,
        key=batch_key(found.spec.name),
        made=made,
        serves=parts.serves,
        finish=parts.finish,
        step=parts.step,
        lines=order_to_pour(lines),
        water=water,
        left_out=parts.left_out,
        composition=composition,
        bottle=bottle,
        glass=measure(composition / parts.serves + added),
        ice_ml=ice_ml,
        poured_ml=float(composition[LABEL]),
        vessels=_vessels(size, volume_ml, bar),
        cold=cold,
        kept=batch_life(
            (*items, *_spoiling_in_steps(found.spec, bar)),
            composition,
            bottle,
            made,
            bar,
            watered=water.ml > 0,
        ),
        told=told_in_bottle(items, found.spec, bar),
        cost=None if None in costs else math.fsum(cost or 0.0 for cost in costs),
    )


def _spoiling_in_steps(spec: Spec, bar: Bar) -> tuple[Ingredient, ...]:
    """What steps put in that spoils first: before it is bottled, for all that is known."""
    keys = sorted(certain_in_bottle((), spec, bar).holds)
    items = (bar.bottles.by_key(key) for key in keys)
    kinds = (*SPOILS_FIRST, *SPOILING)
    return tuple(item for item in items if item and any(map(item.is_kind, kinds)))


def _usual_finish(found: Assessment, left_out: Sequence[LeftOut], celsius: float | None) -> Finish:
    """The finish of a technique: again on ice if shaken, blended or swizzled, as water cannot
    replace that.

    What is built over ice is poured over it cold if the batch is cold.
    """
    if float(found.drink.melt_ml) == 0.0:
        return Finish.NEVER
    if any(map(is_made_with_ice, left_out)):
        return Finish.AGAIN
    if found.technique in _STIRRED or (found.technique == "build" and celsius is not None):
        return Finish.NEVER
    return Finish.AGAIN


def _composition(poured: Iterable[tuple[Pour, float]], water_ml: float) -> Floats:
    """The composition of pours, each in its ingredient's own unit, and water; shape (columns,)."""
    total = np.zeros(len(COLUMNS))
    for line, units in poured:
        total += units * line.ingredient.composition()
    total[WATER] += water_ml * WATER_G_ML
    total[LABEL] += water_ml
    return total


def _volume_ml(inside: Sequence[Pour], water_ml: float) -> float:
    """The volume of one serve in the bottle."""
    one = _composition(((line, line.amount) for line in inside), water_ml)
    return float(measure(one).volume_ml)


def _share_ml(inside: Sequence[Pour], water_pct: float) -> float:
    """The water for one serve that makes a share of the bottle."""

    def surplus(water_ml: float) -> float:
        return 100.0 * water_ml / _volume_ml(inside, water_ml) - water_pct

    return root(surplus, 0.0, 100.0 * _volume_ml(inside, 0.0))


def _water(found: Assessment, whole: float, step: ScaleStep, *, asked: bool) -> Water:
    """Water with the spread of practice, if it replaces melt."""
    per_ml = WATER_G_ML if step.weighed else 1.0
    amount = step.rounded(whole * per_ml) if whole else 0.0
    melt, ml = found.uncertain.melt, amount / per_ml
    if asked or melt is None or not whole:
        return Water(ml, amount, None, None, asked)
    low, high = melt.technique.spread_low, melt.technique.spread_high
    return Water(ml, amount, whole * low, whole * high)


def _vessels(size: Size, volume_ml: float, bar: Bar) -> Vessels:
    mix_in_ml = volume_ml / (1.0 - HEADSPACE)
    own = smallest_for(volume_ml, bar.vessels)
    if size.room_ml is None or size.keg:
        return Vessels(size.vessel_ml, 1, volume_ml, mix_in_ml, size.keg, mix_in=own)
    count = max(1, math.ceil(volume_ml / size.room_ml - SLACK))
    last_ml = volume_ml - (count - 1) * size.room_ml
    return Vessels(
        size.vessel_ml, count, last_ml, mix_in_ml, keg=False, filled=size.filled, mix_in=own
    )
