"""The whole numbers of a plan: ticks of what is there and taken, units of cost and of worth."""

from __future__ import annotations

import math
from typing import Final

TICKS: Final = 100
"""In a millilitre or gram."""
MONEY: Final = 10_000
"""Units of cost in one of the bar's currency."""
_UNDER_HALF_A_CENT: Final = MONEY // 200 - 1
WORTH: Final = 10**8
"""Units of what spoils in one of the bar's currency."""
_WHOLE: Final = 1e-6
"""What floats may be off in a tick: 22.5 mL are 2250 ticks, and not 2251."""


def most_spent(spend: float) -> int:
    """The spending limit in units of cost, as orders are reported to the cent."""
    units = math.floor(spend * MONEY + _WHOLE)
    return units + _UNDER_HALF_A_CENT if units else 0


def ticks_up(amount: float) -> int:
    """Ticks of a consumption, rounded up."""
    return math.ceil(amount * TICKS - _WHOLE)


def ticks_down(amount: float) -> int:
    """Ticks of a stock, rounded down."""
    return math.floor(amount * TICKS + _WHOLE)
