"""The shelf as it stands, as text and as a table."""

from __future__ import annotations

from collections.abc import Mapping

from solver.pantry.bar import Bar
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import counts_pieces
from solver.quantities import show_number, split_count
from solver.quantities.units import find_unit
from solver.show.text.guest import day_line
from solver.show.text.ingredients import NAMED_HEADS, named_cells
from solver.show.text.table import csv_table


def shelf_text(bar: Bar) -> str:
    """What the bar has: one line for each bottle."""
    lines = [
        *_without_shelf(bar),
        f"{'':<26}{'% vol':>6}{'sugar':>6}{'acid':>6}{'on hand':>15}{'price':>8}{'use by':>11}",
        f"{'':<29}{'g/100 mL (or g)':>15}{bar.currency:>23}",
    ]
    for stocked in bar.listed:
        item = stocked.ingredient
        price = "" if stocked.price is None else f"{stocked.price:.2f}"
        use_by = "" if stocked.use_by is None else stocked.use_by.isoformat()
        past = "  past: not poured" if stocked.past(bar.today) else ""
        if stocked.waiting(bar.today):
            past = f"  ready {stocked.ready}: not poured before"
        label = f"  {stocked.label}" if stocked.label else ""
        lines.append(
            f"{item.key[:25]:<26}{item.abv.value:>6.1f}{item.sugar.value:>6.1f}"
            f" {item.acid.value:>5.2f} {_on_hand(stocked, bar):>14} {price:>7}{use_by:>11}"
            f"{past}{label}"
        )
    lines += ["", *day_line(bar)]
    return "\n".join(line.rstrip() for line in lines).rstrip()


def _on_hand(stocked: Stocked, bar: Bar) -> str:
    """What is there, in what it is bought in: "1.5 x 700 mL", "20 pieces", else "400 mL".

    "? x 700 mL" where nobody counts it; a bottle of so many ounces is one of those: "2 x 25.4 oz".
    """
    unit, size, there = stocked.ingredient.unit, stocked.bottle, stocked.on_hand
    if not size:
        return "" if there is None else f"{show_number(there, 0)} {unit}"
    row = bar.shelf.row(stocked.ingredient.key) if bar.shelf else None
    loose = bar.shelf is not None and row is not None and _in_pieces(bar.shelf.cells(row))
    if loose:
        size = stocked.ingredient.piece.value if stocked.ingredient.piece is not None else size
    count = "?" if there is None else show_number(there / size, 2)
    if loose:
        return f"{count} piece{'' if count == '1' else 's'}"
    ounces = _in_ounces(bar.shelf.cells(row)) if bar.shelf is not None and row is not None else ""
    return f"{count} x {ounces or f'{show_number(size, 0)} {unit}'}"


def _in_ounces(cells: Mapping[str, str]) -> str:
    """The size of a bottle as its row says it, where that is in ounces."""
    taken = split_count(cells.get("bottle", ""))
    unit = find_unit(taken[1]) if taken else None
    of_ounces = unit is not None and unit.name in ("ounce", "fluid_ounce")
    return f"{taken[0]} oz" if taken and of_ounces else ""


def _in_pieces(cells: Mapping[str, str]) -> bool:
    """Whether a row of the shelf counts what is loose, as limes are."""
    return counts_pieces(cells.get("bottle", ""))


def _without_shelf(bar: Bar) -> list[str]:
    """What to know where nobody has said what is on the shelf."""
    if bar.shelf is not None:
        return []
    what = "There is no bar here" if bar.root is None else "This bar has no shelf.csv"
    how = "equipour init" if bar.root is None else "equipour shelf add"
    return [f"{what}: below is all that the library knows. To have your own: {how}", ""]


def shelf_csv(bar: Bar) -> str:
    """The shelf as a table; figures of 100 of the ingredient's own unit."""
    heads = (*NAMED_HEADS, "bottle", "price", "currency",
             "on_hand", "opened", "use_by", "past", "note")  # fmt: skip
    return csv_table(
        heads,
        (
            (
                *named_cells(row.ingredient),
                row.bottle,
                row.price,
                bar.currency,
                row.on_hand,
                row.opened.isoformat() if row.opened else None,
                row.use_by.isoformat() if row.use_by else None,
                row.past(bar.today),
                row.note,
            )
            for row in bar.listed
        ),
    )
