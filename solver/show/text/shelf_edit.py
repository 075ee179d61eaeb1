"""A row of the shelf that was added, changed or removed."""

from __future__ import annotations

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import in_ounces_of_weight, pieces
from solver.quantities import show_money, show_number
from solver.tasks.house_bottle_like import LABEL
from solver.tasks.shelf_edit import Restocked
from solver.tasks.stock.house_figures import HouseFile


def restocked_text(what: str, done: Restocked, bar: Bar) -> str:
    """One line: what was done, and what the shelf says of it."""
    lines = [f"{what}: {row_words(done.row, bar)}"]
    size = (
        done.shelf.cells(done.row).get("bottle", "")
        if done.shelf.row(done.row.ingredient.key)
        else ""
    )
    if in_ounces_of_weight(size, done.row.ingredient):
        lines.append(f"{size} is taken as weight, as on a jar of it; by volume, write fl oz.")
    return "\n".join(lines + ([like_words(done.house)] if done.house else []))


def like_words(house: HouseFile) -> str:
    """What a house file holds that was made like another ingredient."""
    item = house.item
    label = f", and {item.abv.value:g} % vol by its label" if item.abv.source == LABEL else ""
    return (
        f"house/{house.path.name}: {item.name} has the figures and allergens of {item.like}{label}."
        " Read the label, and correct it there."
    )


def row_words(row: Stocked, bar: Bar) -> str:
    """What the shelf says of one ingredient."""
    unit = row.ingredient.unit
    said = [row.ingredient.key]
    if row.label:
        said.append(f'called "{row.label}"')
    if (known := bar.library.get(row.ingredient.key)) and known.abv != row.ingredient.abv:
        said.append(f"{row.ingredient.abv.value:g} % vol")
    piece = row.ingredient.piece
    loose = piece is not None and row.bottle == piece.value
    if row.bottle is not None:
        said.append(f"{'1 piece of ' if loose else ''}{show_number(row.bottle)} {unit}")
    if row.price is not None:
        said.append(show_money(row.price, bar.currency))
    if row.on_hand is not None:
        amount = f"{show_number(row.on_hand)} {unit}"
        if loose and piece is not None:
            amount = pieces(show_number(row.on_hand / piece.value, 2))
        said.append(f"{amount} on hand")
    if row.opened is not None:
        said.append(f"opened {row.opened.isoformat()}")
    if row.use_by is not None:
        said.append(f"use by {row.use_by.isoformat()}")
    return ", ".join(said)
