"""Where what a profile says is from, and what it says of its parts beside its numbers."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from solver.files.checked import Model, Text, mistake
from solver.pantry.figure import Basis


class ProfileSource(Model):
    """Where a profile's numbers come from."""

    basis: Basis = Field(description="What its numbers are worth.")
    text: Text = Field(description="Where its numbers are from.")


class UsualSource(ProfileSource):
    """Where what a profile calls usual comes from.

    `together` are pairs, ingredients or kinds, that go together in its drinks.
    """

    together: tuple[tuple[Text, Text], ...] = Field(
        default=(), description="Pairs of ingredients or kinds that go together in such drinks."
    )


class MovedParts(ProfileSource):
    """What of such a drink moves when it is poured anew, by part: what is in neither list moves
    after what moves first."""

    first: tuple[Text, ...] = Field(
        default=(), description="Parts that are poured otherwise before any other is."
    )
    never: tuple[Text, ...] = Field(
        default=(), description="Parts that are poured as they were, whatever the numbers."
    )

    @model_validator(mode="after")
    def _one_or_the_other(self) -> Self:
        for name in self.first:
            if name in self.never:
                remedy = "Leave it in one of the two."
                raise mistake(f"{name} moves first, and never", key="never", remedy=remedy)
        return self

    def of(self, part: str) -> str:
        """When a pour in a part moves, as one of the words `MOVES`."""
        return "first" if part in self.first else "never" if part in self.never else "last"
