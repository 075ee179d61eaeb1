"""A figure of an ingredient: a number with where it comes from, and how a file writes it."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from solver.files.checked import Model, Number, Text, mistake, one_of
from solver.pantry import vocabulary as words

Basis = Annotated[str, one_of(words.BASES, "a basis")]


class Figure(Model):
    """A number with where it comes from; the unit is that of the field that holds it.

    `low` and `high` are how far other bottles or batches of the same thing reach.
    """

    value: Number = Field(description="The figure, in the unit that its key names.")
    low: Number | None = Field(
        default=None, description="The least that other bottles or batches have."
    )
    high: Number | None = Field(
        default=None, description="The most that other bottles or batches have."
    )
    basis: Basis = Field(
        description=f"What the figure is worth. Use one of: {', '.join(words.BASES)}."
    )
    source: Text = Field(description='Say where it is from, like source = "refractometer".')

    @model_validator(mode="after")
    def _ordered(self) -> Self:
        low = self.value if self.low is None else self.low
        high = self.value if self.high is None else self.high
        if not low <= self.value <= high:
            what = f"the figure {self.value:g} is outside its own range {low:g} to {high:g}"
            raise mistake(what)
        return self


def figure_example(name: str, unit: str, value: float, says: str = "") -> str:
    """What a figure is, and how it is written."""
    figure = f'{{ {unit} = {value:g}, basis = "estimate", source = "…" }}'
    return f"{says} Write it like {name} = {figure}.".lstrip()
