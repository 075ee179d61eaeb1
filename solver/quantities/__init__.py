"""Quantities as people write them: the only part of the package that knows units.

Reading turns text into numbers in one unit per quantity (mL, g, % vol, g/100 mL); showing turns
numbers into what a bartender says. The units library is imported by the first conversion, not
before: text that is already in the quantity's own unit never needs it.
"""

from solver.quantities.number_words import in_digits
from solver.quantities.numbers import split_count
from solver.quantities.pours import (
    PourSpan,
    Unit,
    WrittenAmount,
    parse_pour,
    parse_pour_span,
    say_pieces,
)
from solver.quantities.reading import Quantity, Span, is_mass, parse, parse_number, parse_span
from solver.quantities.showing import (
    show_amount,
    show_count,
    show_large,
    show_money,
    show_number,
    show_pour,
    show_pours,
    show_temperature,
    show_volume,
    trade_ml,
)
from solver.quantities.sizes import Measures

__all__ = [
    "Measures",
    "PourSpan",
    "Quantity",
    "Span",
    "Unit",
    "WrittenAmount",
    "in_digits",
    "is_mass",
    "parse",
    "parse_number",
    "parse_pour",
    "parse_pour_span",
    "parse_span",
    "say_pieces",
    "show_amount",
    "show_count",
    "show_large",
    "show_money",
    "show_number",
    "show_pour",
    "show_pours",
    "show_temperature",
    "show_volume",
    "split_count",
    "trade_ml",
]
