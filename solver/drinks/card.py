"""A card: everything of a drink that is handed to somebody, as data and not yet as a page.

Amounts are in the ingredient's own unit (mL, or g of what is weighed); bands and axes in the unit
of their measure. Who it is for decides what stands on it: cost and stock are for the bar alone,
house recipes for the bar and for a reader.
"""

from __future__ import annotations

import datetime
import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from solver.drinks.assess import Assessment
from solver.drinks.characters import characters_of
from solver.drinks.floated import Floated
from solver.drinks.guest_notice import ForGuest
from solver.drinks.method import SERVED, MethodStep, ServedAs, is_floated, method_of
from solver.measures import MEASURES, Measure
from solver.pantry.bar import Bar
from solver.pantry.defaults import Glass
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.recipe import Recipe
from solver.pantry.spec import Tasting


@enum.unique
class Reader(enum.StrEnum):
    """Who a card is for."""

    BAR = "bar"
    """Everything: what it costs, what the house cooks for it, which version it is."""
    GUEST = "guest"
    """What somebody who orders it wants to know, and must."""
    READER = "reader"
    """What somebody needs who makes it at home: no costs."""


AXES: Mapping[str, tuple[float, float]] = {
    "abv": (0.0, 45.0),
    "sugar": (0.0, 20.0),
    "acid": (0.0, 1.6),
}
"""What is drawn of a drink, from where to where: wide enough for every built-in profile."""


@dataclass(frozen=True)
class Gauge:
    """A measure on its axis, and the style's band where there is a style that says one."""

    measure: Measure
    value: float
    band: tuple[float, float] | None
    axis: tuple[float, float]


@dataclass(frozen=True)
class House:
    """A house ingredient on a card: what goes in, what is done to it, how long it keeps cold.

    `expected_ml` is what its recipe should give, None where it was measured or cannot be said.
    `days` are those of what is made today, `use_by` the last one of what the bar has, None on a
    card that is not for the bar. `cautions` are for whoever cooks or keeps it.
    """

    ingredient: Ingredient
    recipe: Recipe | None
    expected_ml: float | None
    days: int
    use_by: datetime.date | None
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Layer:
    """What stands in the glass, from below."""

    volume_ml: float


@dataclass(frozen=True)
class Card:
    """One drink for one kind of reader.

    `characters` are tags, what tells this drink from others first. `values` holds every measure
    by its name, None where it is not known. What is `not_cooked` makes it a draft. `cost` is None
    on a card that is not for the bar. `version` is the day on which the drink was approved, None
    where it never was; `made` the day of the card; both are the house's business, and None for a
    guest. `tasted` is what the bar thought of it last, None on a card that is not for the bar.
    `kitchen` are cautions for whoever pours it, beside those of `house`; a guest's card has
    neither.
    """

    name: str
    characters: tuple[str, ...]
    pours: tuple[Pour, ...]
    glass: Glass | None
    serve: ServedAs
    layers: tuple[Layer, ...]
    technique: str
    steps: tuple[MethodStep, ...]
    written_steps: tuple[str, ...]
    values: Mapping[str, float | None]
    gauges: tuple[Gauge, ...]
    floated: Floated | None
    guest: ForGuest
    house: tuple[House, ...]
    kitchen: tuple[str, ...]
    notes: str
    tasted: Tasting | None
    cost: float | None
    not_cooked: tuple[Ingredient, ...]
    version: datetime.date | None
    made: datetime.date | None


def card_of(
    found: Assessment, bar: Bar, reader: Reader, today: datetime.date, house: Sequence[House] = ()
) -> Card:
    """The card of an assessed drink; `house` is what the house makes of it, for whoever may see."""
    glass = bar.glass(found.glass) if found.glass else None
    serve = serve_of(found, glass)
    spec = found.spec
    for_bar, for_guest = reader is Reader.BAR, reader is Reader.GUEST
    return Card(
        name=spec.name,
        characters=characters_of(found.lines, bar),
        pours=found.lines,
        glass=glass,
        serve=serve,
        layers=_layers(found),
        technique=found.technique,
        steps=method_of(found.technique, serve, found.lines, spec.garnish),
        written_steps=spec.steps,
        values=found.values,
        gauges=_gauges(found),
        floated=found.floated,
        guest=found.guest if for_bar else _served(found.guest),
        house=tuple(_told(each, reader) for each in house if reader is not Reader.GUEST),
        kitchen=() if for_guest else _kitchen(found, house),
        notes="" if for_guest else spec.notes or "",
        tasted=spec.tasted[-1] if for_bar and spec.tasted else None,
        cost=found.values["cost"] if for_bar else None,
        not_cooked=tuple(x.ingredient for x in found.lines if x.ingredient.key in bar.uncooked),
        version=spec.approved.date if spec.approved and not for_guest else None,
        made=None if for_guest else today,
    )


def serve_of(found: Assessment, glass: Glass | None) -> ServedAs:
    """How the drink stands in its glass; without a glass, as such a drink usually does."""
    if found.technique == "hot":
        return ServedAs.HOT
    if glass is not None and glass.serve:
        return SERVED[glass.serve]
    if found.technique in {"julep", "swizzle"}:
        return ServedAs.CRUSHED
    built = found.technique in {"build", "build-top", "highball"}
    return ServedAs.ON_ICE if built else ServedAs.UP


def _gauges(found: Assessment) -> tuple[Gauge, ...]:
    bands = {met.aim.measure.name: met.aim.range for met in found.aims}
    gauges: list[Gauge] = []
    for name, axis in AXES.items():
        value = found.values[name]
        if value is not None:
            gauges.append(Gauge(MEASURES[name], value, bands.get(name), axis))
    return tuple(gauges)


def _layers(found: Assessment) -> tuple[Layer, ...]:
    """What is mixed, with the water of the ice; and over it what is floated, if anything is."""
    floated = (line for line in found.lines if line.top and is_floated(line.ingredient))
    above = tuple(Layer(_ml(line)) for line in floated)
    whole = float(found.drink.finished.volume_ml)
    rest = max(0.0, whole - sum(layer.volume_ml for layer in above))
    return (Layer(rest), *above)


def _ml(line: Pour) -> float:
    """The volume of a pour; what is dissolved takes little room, and counts as none."""
    return line.amount if line.ingredient.per == "ml" else 0.0


def _served(guest: ForGuest) -> ForGuest:
    """What is told of a drink away from the bar: how old its bottles are is the bar's to know."""
    kept = tuple(each for each in guest.cautions if each not in guest.of_stock)
    return replace(guest, cautions=kept, of_stock=())


def _told(house: House, reader: Reader) -> House:
    """What of a house ingredient is for that reader: the bar's own date is of its own bottle."""
    return house if reader is Reader.BAR else replace(house, use_by=None)


def _kitchen(found: Assessment, house: Sequence[House]) -> tuple[str, ...]:
    """What may hurt whoever pours the drink, but for what stands beside a recipe of the house."""
    said = {caution for each in house for caution in each.cautions}
    return tuple(each for each in found.guest.told.kitchen_cautions if each not in said)
