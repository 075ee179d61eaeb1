"""A card: the data of a drink for one kind of reader, independent of the page.

Amounts are in the ingredient's own unit (mL, or g of what is weighed); bands and axes in the unit
of their measure. The reader decides what is included: cost and stock are for the bar alone, house
recipes for the bar and for a reader.
"""

from __future__ import annotations

import datetime
import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from solver.drinks.assess import Assessment
from solver.drinks.characters import characters_of, is_bittersweet
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
from solver.requests.leaves import leaves_in


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
    """A measure with its axis, and the band of the style if it states one."""

    measure: Measure
    value: float
    band: tuple[float, float] | None
    axis: tuple[float, float]


@dataclass(frozen=True)
class House:
    """A house ingredient on a card: inputs, steps, and days that it keeps cold.

    `expected_ml` is the yield computed from the recipe; None if it was measured or cannot be
    computed. `days` count from a batch made today; `use_by` is the last day of the batch in stock,
    None unless the card is for the bar. `cautions` are for whoever cooks or stores it.
    """

    ingredient: Ingredient
    recipe: Recipe | None
    expected_ml: float | None
    days: int
    use_by: datetime.date | None
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Layer:
    """One layer in the glass; layers are listed from below."""

    volume_ml: float


@dataclass(frozen=True)
class Card:
    """A drink for one kind of reader.

    `characters` are tags, the most distinctive first; a drink that is `bittersweet` is not called
    sweet for its sugar. `values` maps the name of each measure to its value; None if unknown. A
    card with anything `not_cooked` is a draft. `version` is the day of approval, None if never
    approved; `made` is the day of the card; both are None for a guest. `cost` and `tasted`, the
    bar's last tasting, are None unless the card is for the bar. `kitchen` are cautions for whoever
    pours the drink, beside those of `house`; empty for a guest.
    """

    name: str
    characters: tuple[str, ...]
    bittersweet: bool
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
    """The card of an assessed drink; `house` are its house ingredients, for readers who may see
    them."""
    glass = bar.glass(found.glass) if found.glass else None
    serve = serve_of(found, glass)
    spec = found.spec
    for_bar, for_guest = reader is Reader.BAR, reader is Reader.GUEST
    return Card(
        name=spec.name,
        characters=characters_of(
            found.lines, bar, [each.ingredient for each in leaves_in(spec.garnish, bar)]
        ),
        bittersweet=is_bittersweet(found.lines),
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
        guest=found.guest if for_bar else found.guest.served,
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
    """How the drink is served in its glass; as its technique usually is if no glass is given."""
    if found.technique == "hot":
        return ServedAs.HOT
    if found.technique in {"julep", "swizzle"}:
        return ServedAs.CRUSHED
    if glass is not None and glass.serve:
        return SERVED[glass.serve]
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
    """The mixed drink with its melt, and the floated pours above it, if any."""
    floated = (line for line in found.lines if line.top and is_floated(line.ingredient))
    above = tuple(Layer(_ml(line)) for line in floated)
    whole = float(found.drink.finished.volume_ml)
    rest = max(0.0, whole - sum(layer.volume_ml for layer in above))
    return (Layer(rest), *above)


def _ml(line: Pour) -> float:
    """The volume of a pour; 0 for dry ingredients, which dissolve."""
    return line.amount if line.ingredient.per == "ml" else 0.0


def _told(house: House, reader: Reader) -> House:
    """A house ingredient as a reader may see it: the last day of the bar's batch is for the bar."""
    return house if reader is Reader.BAR else replace(house, use_by=None)


def _kitchen(found: Assessment, house: Sequence[House]) -> tuple[str, ...]:
    """Cautions for whoever pours the drink, without those already beside a house recipe."""
    said = {caution for each in house for caution in each.cautions}
    return tuple(each for each in found.guest.told.kitchen_cautions if each not in said)
