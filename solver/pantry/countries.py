"""Whose rules a bar follows: what a standard drink is there, and which allergens are told."""

from __future__ import annotations

from collections.abc import Mapping

from solver.files.checked import Checked, Model, Number, Text, check
from solver.files.toml import TomlText, read_toml
from solver.pantry.figure import Basis
from solver.pantry.folders import ALLERGEN_LISTS, COUNTRIES
from solver.pantry.ingredient import Allergen


class AllergenList(Model):
    """The allergens that a law names."""

    name: Text
    says: Text
    allergens: tuple[Allergen, ...]
    basis: Basis
    source: Text


class StandardDrink(Model):
    """Grams of alcohol in what a country calls one drink."""

    g: Number
    basis: Basis
    source: Text


class Jurisdiction(Model):
    """Whose rules a bar follows: its standard drink and its list of allergens.

    Where `allergens_known` is false the list is only the longer one, not that country's law.
    `tax_on_top` says that prices on lists are before tax there: common practice, no source.
    `fahrenheit` that fridges show °F there, likewise. `also` is what else people call it.
    """

    name: Text
    also: tuple[Text, ...] = ()
    standard_drink: StandardDrink
    allergens: AllergenList
    allergens_known: bool
    tax_on_top: bool = False
    fahrenheit: bool = False


def read_jurisdictions() -> Mapping[str, Jurisdiction]:
    """The countries that are known here, by name."""
    lists = named(AllergenList, read_toml(ALLERGEN_LISTS), "allergen_lists")
    file = read_toml(COUNTRIES)
    return {
        name: check(
            Jurisdiction,
            table | {"name": name, "allergens": lists[table["allergens"]]},
            file,
            ["jurisdictions", name],
        )
        for name, table in file.data["jurisdictions"].items()
    }


def read_currencies() -> Mapping[str, str]:
    """Codes of currencies by country, of those that have one."""
    return {
        country: code
        for code, countries in read_toml(COUNTRIES).data["currencies"].items()
        for country in countries
    }


def named(model: type[Checked], file: TomlText, table: str) -> dict[str, Checked]:
    """The rows of a table of tables, each told its own name."""
    return {
        name: check(model, row | {"name": name}, file, [table, name])
        for name, row in file.data[table].items()
    }
