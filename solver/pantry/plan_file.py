"""What is coming: a file of nights, drinks and their shares, and the same asked by options.

A file in the bar's folder `plans`, or anywhere:

    name = "The first weekend of May"
    drinks_each = 1.8                     # where nights count guests
    opens = "18:00"                       # what is cooked for a night is ready by then
    cook_on = ["Thursday", "Saturday"]    # days on which the kitchen cooks; without, any
    spend = "<= 150"                      # or "0": nothing is bought

    [[nights]]
    date = 2026-05-08
    guests = 60                           # or drinks = 110

    [shares]                              # of the drinks: spec, and what of them it will be
    harbour-light = "40%"                 # so many, to the whole drink
    rope-store = "10..30%"                # as suits the shelf
    dry-dock = "the rest"

    [use_up]                              # none of it may be left after that day
    rhubarb-syrup = 2026-05-10

    [batches]                             # what one batch of a recipe is, if not as it was weighed
    rhubarb-syrup = "1 L"
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from pathlib import Path
from typing import Annotated, Final

from pydantic import AfterValidator, Field

from solver.errors import BadInput, Where
from solver.files.checked import FieldWords, FileReading, Model, Number, Text, check, mistake
from solver.files.folders import toml_files
from solver.files.near_words import near_words
from solver.files.toml import KeyPath, TomlText, read_toml
from solver.pantry.bar import Bar
from solver.pantry.library import slug
from solver.printable import short
from solver.quantities import parse_number, parse_span

PLANS: Final = "plans"
"""The folder of a bar's plans."""
OPENS: Final = time(18)
WEEKDAYS: Final = (
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
)  # fmt: skip
_LETTERS: Final = 3
"""By so many letters a day of the week is told from the others."""
REST: Final = "the rest"
WHOLE: Final = 10_000
"""All drinks, in hundredths of a per cent."""
MOST_DRINKS: Final = 20_000
"""Drinks of a night beyond which somebody has mistyped."""
_HALF, _TWICE = 0.5, 2.0
"""How far a drink without a share of its own may be from an equal part of what is left."""
_OFF = 50
"""How far from all drinks fixed shares may come, for people write thirds as 33 %."""

DateOnly = Annotated[
    date, Field(strict=True), FieldWords("a date, without quotes, like 2026-03-31")
]


def _weekday(text: str) -> str:
    word = text.casefold()
    found = [day for day in WEEKDAYS if len(word) >= _LETTERS and day.startswith(word)]
    if not found:
        remedy = "Write it like Thursday."
        near = near_words(word, WEEKDAYS)
        raise mistake(f"'{short(text)}' is not a day of the week", remedy=remedy, near=near)
    return found[0]


_Count = Annotated[int, Field(strict=True, ge=0, le=MOST_DRINKS)]


class NightTable(Model):
    """A night, and who comes."""

    date: DateOnly = Field(description="The day on which the bar opens.")
    drinks: _Count | None = Field(default=None, description="How many drinks are poured.")
    guests: _Count | None = Field(
        default=None, description="Instead of it: how many come; each has drinks_each."
    )


class PlanTable(Model):
    """What a file of a plan may hold."""

    name: Text | None = Field(
        default=None, description="What it is called; the file's name if unsaid."
    )
    drinks_each: Annotated[Number, Field(le=50)] | None = Field(
        default=None, description="How many drinks a guest has, where nights count guests."
    )
    opens: Text | None = Field(
        default=None, description="When what is cooked for a night is ready; 18:00 if unsaid."
    )
    cook_on: tuple[Annotated[str, AfterValidator(_weekday), FieldWords("a weekday")], ...] = Field(
        default=(), description="When the kitchen cooks, like Thursday; on any day if unsaid."
    )
    spend: Text | None = Field(
        default=None, description="The most that the order may cost, like <=120; 0 is no order."
    )
    nights: Annotated[tuple[NightTable, ...], Field(min_length=1)] = Field(
        description="Begin a table [[nights]] with date = 2026-05-08 and drinks = 140."
    )
    shares: Mapping[Text, Text] = Field(
        default_factory=dict,
        description="By spec, what of the drinks it is: 40%, 20..40% or the rest.",
    )
    use_up: Mapping[Text, DateOnly] = Field(
        default_factory=dict,
        description="By ingredient, the day after which none of it may be left.",
    )
    batches: Mapping[Text, Text] = Field(
        default_factory=dict,
        description="By recipe, what one batch makes, like 1 L; as it was weighed if unsaid.",
    )


@dataclass(frozen=True)
class PlanShare:
    """What a drink is of all, in hundredths of a per cent: its limits, and what is wished."""

    low: int
    high: int
    wish: int


@dataclass(frozen=True)
class Coming:
    """What is coming, as numbers; names as written.

    `shares` are by the drink's name; with none, every spec of the bar is poured. `spend` is the
    most that may be spent, None for any. `cook_on` are the days of the week, from 0 for Monday, on
    which the kitchen cooks.
    """

    nights: tuple[tuple[date, int], ...]
    shares: Mapping[str, PlanShare | None] = field(default_factory=dict)
    use_up: Mapping[str, date] = field(default_factory=dict)
    batches: Mapping[str, str] = field(default_factory=dict)
    spend: float | None = None
    opens: time = OPENS
    cook_on: frozenset[int] = frozenset(range(7))
    name: str = ""
    file: TomlText | None = None

    def where(self, keys: KeyPath) -> Where:
        """The line that says what `keys` lead to; of options, the option."""
        if self.file is not None:
            return self.file.where(keys)
        return Where("--use-up" if keys[0] == "use_up" else str(keys[-1]))


def find_plan(text: str, bar: Bar) -> Path:
    """The file of a plan: a path that ends in .toml, or a name in the bar's folder of plans.

    Raises:
        BadInput: there is none.
    """
    if text.lower().endswith(".toml"):
        return Path(text)
    folder = bar.root / PLANS if bar.root else None
    files = {path.stem: path for path in toml_files(folder)} if folder else {}
    stem = slug(text)
    if stem in files:
        return files[stem]
    what = f"'{short(text)}' is not a plan of this bar"
    near = near_words(stem, files)
    remedy = "Write one in the folder plans, or say how many drinks there will be."
    raise BadInput(what, near=near, remedy="" if near else remedy)


def read_coming(path: Path, bar: Bar) -> Coming:
    """What a file says is coming.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    file = read_toml(path)
    table = check(PlanTable, file.data, file)
    reading = FileReading(file)
    nights = tuple(
        (night.date, reading.take(["nights", at], 0, _drinks, night, table.drinks_each))
        for at, night in enumerate(table.nights)
    )
    for at, night in enumerate(table.nights):
        if night.date in {earlier.date for earlier in table.nights[:at]}:
            what = f"there are two nights on {night.date}"
            reading.refuse(["nights", at, "date"], BadInput(what, remedy="Make them one."))
    shares = {
        name: reading.take(["shares", name], None, read_share, text)
        for name, text in table.shares.items()
    }
    coming = Coming(
        nights=nights,
        shares=shares,
        use_up=table.use_up,
        batches=table.batches,
        spend=reading.take(["spend"], None, read_spend, table.spend, bar),
        opens=reading.take(["opens"], OPENS, read_clock, table.opens),
        cook_on=frozenset(map(WEEKDAYS.index, table.cook_on or WEEKDAYS)),
        name=table.name or path.stem,
        file=file,
    )
    reading.finish()
    return coming


def read_share(text: str) -> PlanShare | None:
    """A share as written, like 40% or 20..40%; None for what is left by the others.

    Raises:
        BadInput: it can't be read.
    """
    if " ".join(text.casefold().split()) in ("", REST, "rest"):
        return None
    remedy = "Write it like 40%, 20..40% or the rest."
    if not re.search(r"%\s*$", text):
        raise BadInput(f"'{short(text)}' is not a share", remedy=remedy)
    try:
        span = parse_span(text, "strength")
    except BadInput:
        raise BadInput(f"'{short(text)}' is not a share", remedy=remedy) from None
    if span.aim is not None:
        low = high = span.aim
    else:
        low = 0.0 if span.low is None else span.low
        high = 100.0 if span.high is None else span.high
    ends = round(low * 100), round(high * 100)
    return PlanShare(*ends, (ends[0] + ends[1]) // 2)


def read_spend(text: str | None, bar: Bar) -> float | None:
    """The most that may be spent, like 120 or <=120.

    Raises:
        BadInput: it can't be read, or is a least.
    """
    if text is None:
        return None
    span = parse_span(text, "money", bar.measures, currency=bar.currency)
    most = span.aim if span.aim is not None else span.high
    if most is None or span.low is not None:
        raise BadInput(f"'{short(text)}' is no most to spend", remedy="Write it like <=120.")
    return most


def read_clock(text: str | None) -> time:
    """A time of day, like 18:00.

    Raises:
        BadInput: it can't be read.
    """
    if text is None:
        return OPENS
    try:
        return time.fromisoformat(text.strip())
    except ValueError:
        what = f"'{short(text)}' is not a time of day"
        raise BadInput(what, remedy="Write it like 18:00.") from None


def read_use_up(text: str) -> tuple[str, date]:
    """What must be gone by a day, as an option says it: rhubarb-syrup=2026-05-10.

    Raises:
        BadInput: it can't be read.
    """
    name, sign, day = (part.strip() for part in text.partition("="))
    try:
        if name and sign:
            return name, date.fromisoformat(day)
    except ValueError:
        pass
    what = f"'{short(text)}' does not say what is to be gone by when"
    raise BadInput(what, where=Where("--use-up"), remedy="Write it like rhubarb-syrup=2026-05-10.")


def settled_shares(coming: Coming, names: Sequence[str]) -> tuple[PlanShare, ...]:
    """A share for every drink of `names`: the stated ones, and parts of what those leave.

    Raises:
        BadInput: they can't come to all drinks.
    """
    stated = [coming.shares.get(name) for name in names]
    open_ends = stated.count(None)
    left = max(0, WHOLE - sum(share.wish for share in stated if share))
    room = max(0, WHOLE - sum(share.low for share in stated if share))
    part = left // open_ends if open_ends else 0
    rest = PlanShare(round(_HALF * part), min(room, round(_TWICE * part)), part)
    if open_ends == 1:
        rest = PlanShare(0, WHOLE, part)  # the others' limits are its own
    shares = tuple(share or rest for share in stated)
    least, most = (sum(getattr(share, end) for share in shares) for end in ("low", "high"))
    if least <= WHOLE + _OFF and most >= WHOLE - _OFF:
        return shares
    open_one = f"Name one without a share: {names[-1]}."
    come = f"at least {least / 100:g} %" if least > WHOLE else f"at most {most / 100:g} %"
    raise BadInput(
        f"the shares come to {come} of the drinks",
        where=coming.where(["shares"]) if coming.file else None,
        remedy='Let one be "the rest".' if coming.file else open_one,
    )


def _drinks(night: NightTable, each: float | None) -> int:
    if (night.drinks is None) == (night.guests is None):
        what = "a night counts its drinks or its guests"
        raise BadInput(what, remedy="Write drinks = 140, or guests = 60.")
    if night.drinks is not None:
        return night.drinks
    if each is None:
        what = "how many drinks a guest has is missing"
        raise BadInput(what, remedy="Write drinks_each = 1.8 at the top, or count drinks.")
    drinks = round((night.guests or 0) * each)
    if drinks > MOST_DRINKS:
        raise BadInput(f"{drinks} drinks are more than a night has")
    return drinks


def read_drinks(text: str) -> int:
    """How many drinks a night has, as an option says it.

    Raises:
        BadInput: it is no whole number of a size that a night has.
    """
    number = parse_number(text)
    if number != int(number) or not 0 < number <= MOST_DRINKS:
        raise BadInput(f"'{short(text)}' is no number of drinks", where=Where("--drinks"))
    return int(number)
