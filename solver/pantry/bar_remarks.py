"""What a bar may say of an ingredient in its file, as written."""

from __future__ import annotations

from pydantic import Field

from solver.files.checked import Model, Text
from solver.pantry.text_types import Amount


class Opinions(Model):
    """A bar's own word on what goes with an ingredient.

    `goes_with`, `not_with` and `never` name ingredients, kinds or characters; `like` an ingredient
    that it is poured like; `usual` is a pour of it.
    """

    goes_with: tuple[Text, ...] = Field(
        default=(), description="What it is good with: ingredients, kinds or characters."
    )
    not_with: tuple[Text, ...] = Field(
        default=(), description="What it is not good with: ingredients, kinds or characters."
    )
    never: tuple[Text, ...] = Field(
        default=(), description="What it is never poured with, whatever is asked for."
    )
    like: Text | None = Field(
        default=None, description="An ingredient that it is poured like, where no book counts it."
    )
    usual: Amount | None = Field(default=None, description="How much of it is usually poured.")
