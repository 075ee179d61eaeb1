"""Drinks mixed ahead that stand on the shelf: how they are known there."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from solver.pantry.ingredient import Ingredient

BATCH: Final = "batch"
"""The kind of a drink mixed ahead: there is some of it only where the shelf says so."""


def plain_key(name: str, most_words: int = 8) -> str:
    """A name as the key of an ingredient: its first words in plain letters, with hyphens."""
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", plain)[:most_words])


def batch_key(name: str) -> str:
    """The key under which a batch of a drink stands on the shelf."""
    return "-".join(filter(None, (plain_key(name), "batch")))


def batch_name(name: str) -> str:
    """What a batch of a drink is called."""
    return f"{name} batch"


def is_batch_of(item: Ingredient, name: str) -> bool:
    """Whether it is a batch of the drink of that name, and not of one with the same key.

    A capital makes no other drink of it.
    """
    named = {each.casefold() for each in (item.name, *item.aliases)}
    return item.kind == BATCH and batch_name(name).casefold() in named
