"""equipour: design mixed drinks from the shelf, and prove the result.

What a program may use is listed in `__all__`, and loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # `typing` takes longer to load than all else that hears an interrupt
if TYPE_CHECKING:
    from typing import Final

    from solver.api.ahead import Batch as Batch
    from solver.api.ahead import Price as Price
    from solver.api.ask import assess as assess
    from solver.api.ask import design as design
    from solver.api.ask import open_bar as open_bar
    from solver.api.ask import prep as prep
    from solver.api.ask import rebalance as rebalance
    from solver.api.ask import scale as scale
    from solver.api.ask import swap as swap
    from solver.api.ask import tradeoff as tradeoff
    from solver.api.ask import vary as vary
    from solver.api.ask_ahead import batch as batch
    from solver.api.ask_ahead import menu as menu
    from solver.api.ask_ahead import plan as plan
    from solver.api.ask_ahead import price as price
    from solver.api.ask_ahead import sold as sold
    from solver.api.ask_ahead import stock_log as stock_log
    from solver.api.ask_ahead import stock_past as stock_past
    from solver.api.cooked import Prep as Prep
    from solver.api.counted import Sold as Sold
    from solver.api.counted import StockLog as StockLog
    from solver.api.counted import StockPast as StockPast
    from solver.api.fields import Answer as Answer
    from solver.api.menus import Menu as Menu
    from solver.api.planned import Plan as Plan
    from solver.api.repoured import Rebalance as Rebalance
    from solver.api.repoured import Scaled as Scaled
    from solver.api.repoured import Swap as Swap
    from solver.api.results import Assessment as Assessment
    from solver.api.results import Design as Design
    from solver.api.results import Tradeoff as Tradeoff
    from solver.api.varied import Variation as Variation
    from solver.errors import BadInput as BadInput
    from solver.errors import BadInputs as BadInputs
    from solver.pantry.bar import Bar as Bar

_HOME: Final = {
    "Answer": "solver.api.fields",
    "Assessment": "solver.api.results",
    "BadInput": "solver.errors",
    "BadInputs": "solver.errors",
    "Bar": "solver.pantry.bar",
    "Batch": "solver.api.ahead",
    "Design": "solver.api.results",
    "Menu": "solver.api.menus",
    "Plan": "solver.api.planned",
    "Prep": "solver.api.cooked",
    "Price": "solver.api.ahead",
    "Rebalance": "solver.api.repoured",
    "Scaled": "solver.api.repoured",
    "Sold": "solver.api.counted",
    "StockLog": "solver.api.counted",
    "StockPast": "solver.api.counted",
    "Swap": "solver.api.repoured",
    "Tradeoff": "solver.api.results",
    "Variation": "solver.api.varied",
    "assess": "solver.api.ask",
    "batch": "solver.api.ask_ahead",
    "design": "solver.api.ask",
    "menu": "solver.api.ask_ahead",
    "open_bar": "solver.api.ask",
    "plan": "solver.api.ask_ahead",
    "prep": "solver.api.ask",
    "price": "solver.api.ask_ahead",
    "rebalance": "solver.api.ask",
    "scale": "solver.api.ask",
    "sold": "solver.api.ask_ahead",
    "stock_log": "solver.api.ask_ahead",
    "stock_past": "solver.api.ask_ahead",
    "swap": "solver.api.ask",
    "tradeoff": "solver.api.ask",
    "vary": "solver.api.ask",
}
"""Where each public name is at home: the command line's help imports none of it."""

__all__ = [
    "Answer",
    "Assessment",
    "BadInput",
    "BadInputs",
    "Bar",
    "Batch",
    "Design",
    "Menu",
    "Plan",
    "Prep",
    "Price",
    "Rebalance",
    "Scaled",
    "Sold",
    "StockLog",
    "StockPast",
    "Swap",
    "Tradeoff",
    "Variation",
    "assess",
    "batch",
    "design",
    "menu",
    "open_bar",
    "plan",
    "prep",
    "price",
    "rebalance",
    "scale",
    "sold",
    "stock_log",
    "stock_past",
    "swap",
    "tradeoff",
    "vary",
]


def __getattr__(name: str) -> object:
    """The public name, from where it is at home.

    Raises:
        AttributeError: it is none.
    """
    if name not in _HOME:
        message = f"module 'solver' has no attribute {name!r}"
        raise AttributeError(message)
    return getattr(import_module(_HOME[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)
