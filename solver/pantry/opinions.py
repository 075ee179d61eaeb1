"""What a bar may say of an ingredient in its file, as written."""

from __future__ import annotations

from solver.files.checked import Model, Text


class Opinions(Model):
    """A bar's own word on what goes with an ingredient.

    `goes_with`, `not_with` and `never` name ingredients, kinds or characters; `like` an ingredient
    that it is poured like; `usual` is a pour of it.
    """

    goes_with: tuple[Text, ...] = ()
    not_with: tuple[Text, ...] = ()
    never: tuple[Text, ...] = ()
    like: Text | None = None
    usual: Text | None = None
