"""What a line of a list says of one bottle, even if it is sold in packs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked_as import ONE, by_the_piece, counts_pieces, in_ounces_of_weight, is_bare
from solver.pantry.stocked_as import pieces as as_pieces
from solver.printable import short
from solver.quantities import parse_number, show_number
from solver.tasks.shelf_import.cells import (
    case_cell,
    count_cell,
    price_cell,
    price_taken,
    size_cell,
    size_in,
    stock_cell,
)
from solver.tasks.shelf_import.columns import Head
from solver.tasks.shelf_import.packs import (
    HOW,
    Pack,
    check_price_of_pieces,
    counts_ones,
    pack_in,
    pieces_in,
    price_of_one,
    without_pack,
)


@dataclass(frozen=True)
class PerBottle:
    """Cells of a shelf by column, and the assumptions made."""

    cells: Mapping[str, str]
    taken: str


def per_bottle(
    name: str, said: Mapping[str, str], item: Ingredient, head: Head, bar: Bar
) -> PerBottle:
    """Size, price, stock and case of one bottle, or of pieces that are sold together.

    Raises:
        BadInput: something of it cannot be read, or can be read two ways.
    """
    pack = _pack(name, said, item)
    if pack is not None:
        return _of_pack(name, said, pack, head, bar)
    return _single(name, said, item, head, bar)


def _pack(name: str, said: Mapping[str, str], item: Ingredient) -> Pack | None:
    """The pack in the name or the size; None for a single bottle."""
    loose = item.piece is not None
    of_name = pack_in(name, pieces=not loose)
    of_size = pack_in(said.get("bottle", ""), pieces=not loose)
    found = of_size or of_name
    if of_name and of_size and of_name.count != of_size.count:
        what = f"the name says {of_name.count} and the size {of_size.count}"
        raise BadInput(what, remedy=HOW)
    if found and loose and counts_pieces(found.size):
        raise BadInput(f"'{short(found.written)}' is a pack of packs", remedy=HOW)
    return found


def _single(
    name: str, said: Mapping[str, str], item: Ingredient, head: Head, bar: Bar
) -> PerBottle:
    written = said.get("bottle", "") or size_in(name)
    if by_the_piece(item, bar.library) and is_bare(written) and not head.unit:
        written = as_pieces(written.strip())  # ten eggs, and no 10 cl of them
    size, taken = size_cell(written, head.unit if said.get("bottle") else "")
    pieces = pieces_in(name)
    if pieces and counts_pieces(size) and size != pieces:
        what = f"the name says {pieces} and the size {size}"
        raise BadInput(what, remedy=HOW)
    if counts_pieces(size) and said.get("price"):
        check_price_of_pieces(size, _heading(head, "price"))
    loose = by_the_piece(item, bar.library) and (not size or size == ONE)
    if loose and not size and (said.get("price") or said.get("on_hand")):
        size = ONE
    case, not_read = case_cell(said.get("case", ""))
    on_hand = said.get("on_hand", "")
    packs = ""
    if counts_pieces(size) and size != ONE and counts_pieces(on_hand):
        what = f"'{short(on_hand)}' on hand can be read two ways"
        why = f"so many pieces, or so many of {size}"
        remedy = "Write packs without a unit, or the size and price of 1 piece."
        raise BadInput(what, why=why, remedy=remedy)
    if counts_pieces(size) and size != ONE and is_bare(on_hand):
        packs = f"{on_hand} on hand taken as {on_hand} of {size}"
    if in_ounces_of_weight(size, item):
        taken = f"{size} taken as weight; by volume: fl oz"
    cells = {
        "bottle": size,
        "price": price_cell(said.get("price", ""), bar.currency),
        "on_hand": stock_cell(on_hand, loose=loose),
        "case": case,
    }
    assumed = (taken, packs, price_taken(said.get("price", "")), not_read)
    return PerBottle(cells, ", ".join(filter(None, assumed)))


def _of_pack(name: str, said: Mapping[str, str], pack: Pack, head: Head, bar: Bar) -> PerBottle:
    size, taken = size_cell(_size_of_one(name, said, pack), head.unit)
    digits = price_cell(said.get("price", ""), bar.currency)
    case, not_read = case_cell(said.get("case", ""))
    if pack.count > 1 and digits and case == str(pack.count):
        what = f"{digits} may be the price of one or of all {pack.count}, which the case says too"
        raise BadInput(what, remedy=HOW)
    if case in ("", "1", str(pack.count)):
        case = str(pack.count)
    elif pack.count > 1:
        case, not_read = str(pack.count), f"case '{case}' not read"
    price = price_of_one(digits, pack, _heading(head, "price")) if pack.count > 1 else digits
    on_hand, packs = said.get("on_hand", ""), ""
    if pack.count > 1 and is_bare(on_hand) and not counts_ones(_heading(head, "on_hand")):
        ones = show_number(parse_number(on_hand) * pack.count, 2)
        packs = f"{on_hand} on hand taken as {ones} of them" if on_hand != "0" else ""
        on_hand = ones
    each = f" at {price} each" if price else ""
    several = f"{pack.count} of {size}{each}" if pack.count > 1 else ""
    cells = {
        "bottle": size,
        "price": price,
        "on_hand": count_cell(on_hand) if is_bare(on_hand) else stock_cell(on_hand),
        "case": case,
    }
    assumed = (several, packs, taken, price_taken(said.get("price", "")), not_read)
    return PerBottle(cells, ", ".join(filter(None, assumed)))


def _size_of_one(name: str, said: Mapping[str, str], pack: Pack) -> str:
    """The size of one bottle in the pack, the column of sizes, or the name.

    Raises:
        BadInput: none does, or two say another.
    """
    column = " ".join(without_pack(said.get("bottle", "")).split()).strip(" ,;-")
    in_name = size_in(without_pack(name))
    sizes = [text for text in (pack.size, column, in_name) if text]
    if not sizes:
        raise BadInput(f"how much one of {pack.count} holds is not said", remedy=HOW)
    if len({size_cell(text)[0] for text in sizes}) > 1:
        what = f"it says two sizes of one: {' and '.join(map(short, sizes))}"
        raise BadInput(what, remedy=HOW)
    return sizes[0]


def _heading(head: Head, meaning: str) -> str:
    return head.headings[head.places[meaning]] if meaning in head.places else ""
