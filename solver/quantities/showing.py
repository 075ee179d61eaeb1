"""Showing amounts the way a bartender says them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from solver.quantities.pours import PourSpan, WrittenAmount
from solver.quantities.sizes import TRADE_ROUNDING, Measures

Style = Literal["oz", "ml"]

_DEFAULT = Measures()
_TRADE_OUNCE_ML = 30.0
"""What the trade takes an ounce for when it prints millilitres: common practice, no source."""
_EXACT_ML = 0.05
_QUART_ML = 946.353
"""A United States quart, 32 of its fluid ounces by definition."""


@dataclass(frozen=True)
class _Counted:
    """How the count of a tool is said; `halves` where half a measure can be judged by eye."""

    field: str
    one: str
    many: str
    halves: bool

    def size(self, measures: Measures) -> float:
        return float(getattr(measures, self.field))

    def say(self, amount: float, size: float) -> str | None:
        """None where `amount` is no count of `size` that anybody would count."""
        parts = 2 if self.halves else 1
        count = Fraction(round(parts * amount / size), parts)
        if not 0 < count <= _MOST_COUNTED or abs(amount - count * size) > _SAME_COUNT * size:
            return None
        return f"{_mixed(count)} {self.one if count <= 1 else self.many}"


_MOST_COUNTED = 12
_SAME_COUNT = 0.05
_COUNTED = {
    "dash": _Counted("dash_ml", "dash", "dashes", halves=False),
    "spoon": _Counted("bar_spoon_ml", "bar spoon", "bar spoons", halves=True),
    "drop": _Counted("drop_ml", "drop", "drops", halves=False),
    "piece": _Counted("", "piece", "pieces", halves=True),
}


def show_volume(ml: float, style: Style = "oz", measures: Measures = _DEFAULT) -> str:
    """A volume as said at the bar: "3/4 oz", "1 1/2 oz", or in the trade's millilitres, "22 mL".

    What is no eighth of an ounce (within 1.6 %, the trade's rounding) is said in millilitres.
    """
    if style == "ml":
        return f"{show_number(trade_ml(ml, measures))} mL"
    eighths = round(8 * ml / measures.ounce_ml)
    if eighths and abs(ml - eighths * measures.ounce_ml / 8) <= TRADE_ROUNDING * ml:
        return f"{_mixed(Fraction(eighths, 8))} oz"
    return f"{show_number(ml)} mL"


def show_large(ml: float, style: Style = "oz") -> str:
    """A volume of a kitchen: "450 mL", "2.71 L", or of the United States: "15.2 oz", "2.86 qt".

    Those are ounces below a quart, and gallons from four on.
    """
    if style == "oz" and ml < _QUART_ML:
        return f"{show_number(32 * ml / _QUART_ML)} oz"
    if style == "oz":
        gallons = ml >= 4 * _QUART_ML
        size, unit = (4 * _QUART_ML, "gal") if gallons else (_QUART_ML, "qt")
        return f"{show_number(ml / size, 2)} {unit}"
    return f"{show_number(ml / 1000, 2)} L" if ml >= 1000 else f"{show_number(ml, 0)} mL"


def show_temperature(celsius: float, *, fahrenheit: bool = False, within: float = 0.0) -> str:
    """A temperature: "-12 °C", or in Fahrenheit "10 °F (-12.2 °C)"; `within` is in °C, too."""
    said = f"{show_number(round(celsius, 1) + 0.0)} °C"  # a freezer has no -0
    more = f"± {show_number(within)}" if within else ""
    if not fahrenheit:
        return f"{said} ({more})" if more else said
    degrees = round(1.8 * celsius + 32.0)
    return f"{degrees} °F ({', '.join(filter(None, (said, more)))})"


def show_pour(pour: WrittenAmount, style: Style = "oz", measures: Measures = _DEFAULT) -> str:
    """A pour that somebody wrote, in the bar's own unit; what was counted stays as it was said."""
    if pour.tool != "jigger":
        return pour.said
    return show_volume(pour.value, style, measures)


def show_pours(span: PourSpan, style: Style = "oz", measures: Measures = _DEFAULT) -> str:
    """A range of pours that somebody wrote, as `show_pour`: "1/4..3/4 oz", "7.5..22.5 mL"."""
    if span.tool != "jigger":
        return span.said
    low, high = (show_volume(end, style, measures) for end in (span.low, span.high))
    (least, unit), (most, other) = low.rsplit(" ", 1), high.rsplit(" ", 1)
    if low == high:
        return low
    return f"{least}..{high}" if unit == other else f"{least} {unit}..{most} {other}"


def trade_ml(ml: float, measures: Measures = _DEFAULT) -> float:
    """The number of millilitres that the trade writes: 2 oz is 60, 1 1/2 is 45, 3/4 is 22.

    Eighths of a fluid ounce are written at 30 mL to the ounce, halves rounded down. Anything else
    is rounded to a tenth, and so is everything where the bar's ounce is 30 mL: its jigger has 22.5.
    """
    eighths = round(8 * ml / measures.ounce_ml)
    metric = abs(measures.ounce_ml - _TRADE_OUNCE_ML) < _EXACT_ML
    if eighths and not metric and abs(ml - eighths * measures.ounce_ml / 8) <= _EXACT_ML:
        return float(-((-eighths * _TRADE_OUNCE_ML / 8 + 0.5) // 1))
    return round(ml, 1)


def show_amount(
    amount: float,
    tool: str,
    style: Style = "oz",
    measures: Measures = _DEFAULT,
    *,
    piece_ml: float | None = None,
) -> str:
    """An amount as counted with its tool: "2 dashes", "1/2 bar spoon", "4 g", "1 piece".

    `amount` is in mL, or in grams for the tool "weigh"; a piece needs its size `piece_ml`. Amounts
    that are no count of the tool, and everything from the jigger, are said as `show_volume` does.
    """
    if tool == "weigh":
        return f"{show_number(amount)} g"
    counted = _COUNTED.get(tool)
    if counted is not None:
        size = piece_ml if tool == "piece" else counted.size(measures)
        said = counted.say(amount, size) if size else None
        if said is not None:
            return said
    return show_volume(amount, style, measures)


def show_money(amount: float, currency: str) -> str:
    """A sum, with the bar's currency where it has one."""
    return f"{amount:.2f} {currency}".rstrip()


def show_count(number: float, word: str) -> str:
    """So many of what `word` names: "1 drink", "3 drinks"."""
    return f"{show_number(number)} {word}{'' if number == 1 else 's'}"


def show_number(value: float, decimals: int = 1) -> str:
    """A number without needless zeros: "22.5", "60"."""
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole} {rest}" if whole else str(rest)
