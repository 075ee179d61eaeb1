"""bar.toml: the settings of a bar, checked, with its amounts read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, Field

from solver.errors import BadInput
from solver.files.checked import FileReading, Key, Model, Number, Text, check, mistake, one_of
from solver.files.near_words import near_words
from solver.files.toml import read_toml
from solver.pantry.costing import Costing, CostingTable, read_costing
from solver.pantry.countries import Jurisdiction
from solver.pantry.defaults import Glass, load_defaults
from solver.pantry.folders import languages
from solver.pantry.pour_set import PourSet
from solver.pantry.text_types import Amount, AmountSpan, Currency, Strength, Weight
from solver.pantry.vessels import Vessel, read_vessels
from solver.pantry.vocabulary import TECHNIQUES
from solver.printable import short
from solver.quantities import Measures, parse, parse_span

_OWN = "the bar's own measurement"
_SHOWN = ("oz", "ml")
MOST_A_NIGHT = 100_000
"""Drinks beyond which somebody has mistyped."""


def currency_code(code: str) -> str:
    """A currency as it is written here.

    Raises:
        BadInput: it is none.
    """
    if not (len(code) == 3 and code.isascii() and code.isalpha()):
        what = f"'{short(code)}' is not a currency"
        raise BadInput(what, remedy="Write its code of three letters, like EUR.")
    return code.upper()


def _currency(code: str) -> str:
    try:
        return currency_code(code)
    except BadInput as error:
        raise mistake(error.what, remedy=error.remedy) from None


class Sizes(Model):
    """Sizes of the bar's own measures, as written; `sugar_cube` is a weight."""

    dash: Amount | None = Field(default=None, description="One dash from the bar's own bottles.")
    bar_spoon: Amount | None = Field(default=None, description="One level bar spoon.")
    drop: Amount | None = Field(default=None, description="One drop from a pipette.")
    splash: Amount | None = Field(default=None, description="What the bar calls a splash.")
    teaspoon: Amount | None = Field(default=None, description="One level teaspoon.")
    tablespoon: Amount | None = Field(default=None, description="One level tablespoon.")
    cup: Amount | None = Field(default=None, description="What the kitchen calls a cup.")
    sugar_cube: Weight | None = Field(default=None, description="One sugar cube.")


class GlassTable(Model):
    """A glass of the bar, as written."""

    brim: AmountSpan | None = Field(default=None, description="What the glass holds to its brim.")
    wash_line: Amount = Field(
        description='How much of a drink the glass takes, like wash_line = "175 ml".'
    )


class MeltTable(Model):
    """The bar's own melt, as written: a drink weighed before and after, or a factor."""

    before: Weight | None = Field(
        default=None, description="One drink of this technique before the ice, weighed."
    )
    after: Weight | None = Field(default=None, description="The same drink after the ice.")
    abv: Strength | None = Field(default=None, description="Its strength before the ice.")
    factor: Annotated[Number, Field(gt=0, le=5)] | None = Field(
        default=None,
        description="Instead of a weighing: so many times the usual melt.",
    )


class BarTable(Model):
    """What bar.toml may hold."""

    name: Text = Field(description='What the bar is called, like name = "our bar".')
    ounce: Amount | None = Field(
        default=None,
        description="What the bar takes an ounce for; without it, what its pour set does.",
    )
    pour_set: Text = Field(
        default="quarter-ounce",
        description="What the jigger and the other tools measure: a built-in pour set.",
    )
    currency: Annotated[Currency, AfterValidator(_currency)] = Field(
        default="", description="The currency of every price."
    )
    jurisdiction: Text = Field(
        default="United States",
        description="Country whose standard drink and list of allergens are used.",
    )
    show: Annotated[str, one_of(_SHOWN, "a way to show amounts")] | None = Field(
        default=None,
        description="The unit that amounts are told in; without it, that of the pour set.",
    )
    language: Annotated[str, one_of(languages(), "a language known here")] = Field(
        default="en",
        description="The language of cards, labels and the papers of a plan.",
    )
    today: Annotated[date, Field(strict=True)] | None = Field(
        default=None,
        description="The day at which a demonstration stands still; not for a real bar.",
    )
    measures: Sizes = Field(default=Sizes(), description="Sizes of the bar's own measures.")
    glasses: Mapping[Key, GlassTable] = Field(
        default_factory=dict, description="The bar's own glasses, by name."
    )
    melt: Mapping[Annotated[str, one_of(TECHNIQUES, "a technique")], MeltTable] = Field(
        default_factory=dict, description="The bar's own melt, by technique."
    )
    vessels: Mapping[Key, Amount] = Field(
        default_factory=dict,
        description='What batches are mixed in, by name, like stockpot = "10 L".',
    )
    costing: CostingTable = Field(
        default=CostingTable(), description="What is counted beside the pours, and what is asked."
    )
    most_a_night: Mapping[Key, Annotated[int, Field(strict=True, ge=0, le=MOST_A_NIGHT)]] = Field(
        default_factory=dict,
        description="By glass or technique, how many drinks of a night there can be, washing "
        "included: coupe = 60.",
    )


@dataclass(frozen=True)
class Weighed:
    """A drink that the bar weighed (g) before and after icing; its strength before, % vol."""

    before_g: float
    after_g: float
    abv_pct: float


@dataclass(frozen=True)
class Settings:
    """The settings of a bar as numbers.

    `glasses` are the bar's own. A technique that the bar calibrated is in `weighed`, or in
    `melt_factors` as a factor on the published curve. `today` is the day that it is there, for a
    bar that stands still; None: that of the calendar. `most_a_night` is by glass or technique.
    """

    name: str
    measures: Measures
    pour_set: PourSet
    currency: str
    jurisdiction: Jurisdiction
    show: Literal["oz", "ml"]
    today: date | None
    glasses: Mapping[str, Glass]
    weighed: Mapping[str, Weighed]
    melt_factors: Mapping[str, float]
    costing: Costing
    most_a_night: Mapping[str, int]
    vessels: tuple[Vessel, ...] = ()
    language: str = "en"


def read_bar_file(path: Path) -> Settings:
    """The settings in a bar.toml.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    file = read_toml(path)
    table = check(BarTable, file.data, file)
    reading = FileReading(file)
    defaults = load_defaults()
    pour_set = reading.take(
        ["pour_set"], defaults.pour_sets["quarter-ounce"], defaults.pour_set, table.pour_set
    )
    jurisdiction = reading.take(
        ["jurisdiction"],
        defaults.jurisdictions["United States"],
        defaults.jurisdiction,
        table.jurisdiction,
    )
    measures = _measures(table, pour_set, jurisdiction, reading)
    costing = read_costing(table.costing, measures, reading, tax_on_top=jurisdiction.tax_on_top)
    settings = Settings(
        name=table.name,
        measures=measures,
        pour_set=pour_set,
        currency=table.currency,
        jurisdiction=jurisdiction,
        show="ml" if (table.show or pour_set.unit) == "ml" else "oz",
        today=table.today,
        glasses={
            name: _glass(name, glass, defaults.glasses.get(name), measures, reading)
            for name, glass in table.glasses.items()
        },
        weighed={
            name: _weighed(name, melt, measures, reading)
            for name, melt in table.melt.items()
            if melt.factor is None
        },
        melt_factors={
            name: melt.factor for name, melt in table.melt.items() if melt.factor is not None
        },
        costing=costing,
        most_a_night=dict(table.most_a_night),
        vessels=read_vessels(table.vessels, measures, reading),
        language=table.language,
    )
    for name, melt in table.melt.items():
        _check_melt(name, melt, settings, reading)
    known = {*TECHNIQUES, *defaults.glasses, *settings.glasses}
    for name in settings.most_a_night.keys() - known:
        what = f"'{short(name)}' is neither a glass nor a technique known here"
        near = near_words(name, known)
        reading.refuse(["most_a_night", name], BadInput(what, near=near))
    reading.finish()
    return settings


def _measures(
    table: BarTable, pour_set: PourSet, jurisdiction: Jurisdiction, reading: FileReading
) -> Measures:
    """The bar's sizes. They are read with the default ones, so "1/32 oz" is the same everywhere."""
    sizes = {"ounce_ml": pour_set.ounce_ml, "standard_drink_g": jurisdiction.standard_drink.g}
    written = {"ounce": table.ounce} | {
        f"measures.{name}": text for name, text in table.measures if text is not None
    }
    for name, text in written.items():
        if text is None:
            continue
        keys = name.split(".")
        quantity, unit = ("mass", "g") if keys[-1] == "sugar_cube" else ("volume", "ml")
        size = reading.take(keys, 1.0, parse, text, quantity)
        if size <= 0:
            reading.refuse(keys, BadInput(f"{keys[-1]} holds nothing", remedy="Measure it."))
        sizes[f"{keys[-1]}_{unit}"] = size
    return replace(Measures(), **sizes)


def _glass(
    name: str, table: GlassTable, usual: Glass | None, measures: Measures, reading: FileReading
) -> Glass:
    """A glass with the bar's own sizes; what it is and how one serves in it are as of any such."""
    keys = ["glasses", name]
    line = reading.take([*keys, "wash_line"], 1.0, parse, table.wash_line, "volume", measures)
    low = high = line
    if table.brim is not None:
        low, high = reading.take([*keys, "brim"], (line, line), _brim, table.brim, measures)
    if not 0 < line <= high:
        what = f"the wash line of {name} is not between nothing and the brim"
        reading.refuse([*keys, "wash_line"], BadInput(what))
    return Glass(
        name=name,
        says=usual.says if usual else "",
        serve=usual.serve if usual else "",
        brim_low_ml=low,
        brim_high_ml=high,
        wash_line_ml=line,
        basis="published",
        source=_OWN,
    )


def _brim(text: str, measures: Measures) -> tuple[float, float]:
    span = parse_span(text, "volume", measures)
    low = span.low if span.aim is None else span.aim
    high = span.high if span.aim is None else span.aim
    if low is None or high is None:
        raise BadInput("the brim has no end", remedy="Write it like 180 ml or 180..220 ml.")
    return low, high


def _weighed(name: str, table: MeltTable, measures: Measures, reading: FileReading) -> Weighed:
    written = (("before", "mass"), ("after", "mass"), ("abv", "strength"))
    values: list[float] = []
    for key, quantity in written:
        text = getattr(table, key)
        if text is None:
            what = f"{key} is missing"
            remedy = "Give before, after and abv of one drink, or a factor."
            reading.refuse(["melt", name], BadInput(what, remedy=remedy))
            values.append(1.0)
        else:
            keys = ["melt", name, key]
            values.append(reading.take(keys, 1.0, parse, text, quantity, measures))
    return Weighed(*values)


def _check_melt(name: str, table: MeltTable, settings: Settings, reading: FileReading) -> None:
    """Refuse what no drink can have done, and a technique that has no ice."""
    from solver.mixture.melt import TECHNIQUES as CURVES
    from solver.mixture.melt import calibrated

    keys = ["melt", name]
    if table.factor is not None:
        if table.before or table.after or table.abv:
            what = "a melt is either weighed or a factor"
            reading.refuse(keys, BadInput(what, remedy="Leave one of the two out."))
        return
    weighed = settings.weighed[name]
    try:
        calibrated(CURVES[name], weighed.before_g, weighed.after_g, weighed.abv_pct)
    except ValueError as error:
        what = f"the melt of '{name}' cannot be"
        reading.refuse(keys, BadInput(what, why=str(error)))
