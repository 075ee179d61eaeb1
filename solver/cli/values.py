"""Values of options: what is wrong with one is said in words, not in type names."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

import click


class WholeNumber(click.IntRange):
    """A count."""

    name = "whole number"


class Seconds(click.FloatRange):
    """A time; what is written like a number and is none is refused."""

    name = "number of seconds"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read it."""
        seconds = float(super().convert(value, param, ctx))
        if math.isnan(seconds):
            self.fail(f"'{value}' is not a valid {self.name}.", param, ctx)
        return seconds


class StepsType(click.FloatRange):
    """A number of steps, more than none and not without end."""

    name = "number of steps"

    def __init__(self) -> None:
        super().__init__(min=0, min_open=True, max=100)

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read it."""
        steps = float(super().convert(value, param, ctx))
        if math.isnan(steps):
            self.fail(f"'{value}' is not a valid {self.name}.", param, ctx)
        return steps


class Column(click.ParamType[str]):
    """A column of the spec book, by its name or by what it is headed."""

    name = "column"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """Read it."""
        from solver.measures import MEASURES
        from solver.tasks.assess_all import BY

        labels = {measure.label: name for name, measure in MEASURES.items()}
        word = str(value).strip().casefold()
        word = labels.get(word, word)
        if word not in BY:
            self.fail(f"'{value}' is not a column. Known: {', '.join(BY)}.", param, ctx)
        return word


def day(context: click.Context, parameter: click.Parameter, value: str | None) -> date | None:
    """Read a day, written year-month-day: the callback of an option."""
    try:
        return date.fromisoformat(value) if value is not None else None
    except ValueError:
        message = f"'{value}' is not a day like 2026-03-31."
        raise click.BadParameter(message, context, parameter) from None


def days(
    context: click.Context, parameter: click.Parameter, values: tuple[str, ...]
) -> tuple[date, ...]:
    """Read some days: the callback of an option that may be given more than once."""
    read = (day(context, parameter, value) for value in values)
    return tuple(each for each in read if each is not None)


def named(context: click.Context, parameter: click.Parameter, value: str | None) -> str | None:
    """Refuse an empty name, which a script gives by mistake: the callback of an option."""
    if value is not None and not value.strip():
        raise click.BadParameter("it is empty.", context, parameter)
    return value
