"""equipour: design mixed drinks from the shelf, and prove the result.

What a program may use is listed in `__all__`, and loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # `typing` takes longer to load than all else that hears an interrupt
if TYPE_CHECKING:
    from typing import Final

    from solver.api.batch_results import Batch as Batch
    from solver.api.batch_results import Price as Price
    from solver.api.drink_results import Assessment as Assessment
    from solver.api.drink_results import Design as Design
    from solver.api.drink_results import Tradeoff as Tradeoff
    from solver.api.menu_results import Menu as Menu
    from solver.api.night_questions import batch as batch
    from solver.api.night_questions import menu as menu
    from solver.api.night_questions import plan as plan
    from solver.api.night_questions import price as price
    from solver.api.night_questions import sold as sold
    from solver.api.night_questions import stock_log as stock_log
    from solver.api.night_questions import stock_past as stock_past
    from solver.api.plan_results import Plan as Plan
    from solver.api.questions import assess as assess
    from solver.api.questions import design as design
    from solver.api.questions import open_bar as open_bar
    from solver.api.questions import prep as prep
    from solver.api.questions import rebalance as rebalance
    from solver.api.questions import scale as scale
    from solver.api.questions import swap as swap
    from solver.api.questions import tradeoff as tradeoff
    from solver.api.questions import vary as vary
    from solver.api.recipe_results import Prep as Prep
    from solver.api.shared_fields import Answer as Answer
    from solver.api.spec_results import Rebalance as Rebalance
    from solver.api.spec_results import Scaled as Scaled
    from solver.api.spec_results import Swap as Swap
    from solver.api.stock_results import Sold as Sold
    from solver.api.stock_results import StockLog as StockLog
    from solver.api.stock_results import StockPast as StockPast
    from solver.api.variation_results import Variation as Variation
    from solver.errors import BadInput as BadInput
    from solver.errors import BadInputs as BadInputs
    from solver.pantry.bar import Bar as Bar

_HOME: Final = {
    "Answer": "solver.api.shared_fields",
    "Assessment": "solver.api.drink_results",
    "BadInput": "solver.errors",
    "BadInputs": "solver.errors",
    "Bar": "solver.pantry.bar",
    "Batch": "solver.api.batch_results",
    "Design": "solver.api.drink_results",
    "Menu": "solver.api.menu_results",
    "Plan": "solver.api.plan_results",
    "Prep": "solver.api.recipe_results",
    "Price": "solver.api.batch_results",
    "Rebalance": "solver.api.spec_results",
    "Scaled": "solver.api.spec_results",
    "Sold": "solver.api.stock_results",
    "StockLog": "solver.api.stock_results",
    "StockPast": "solver.api.stock_results",
    "Swap": "solver.api.spec_results",
    "Tradeoff": "solver.api.drink_results",
    "Variation": "solver.api.variation_results",
    "assess": "solver.api.questions",
    "batch": "solver.api.night_questions",
    "design": "solver.api.questions",
    "menu": "solver.api.night_questions",
    "open_bar": "solver.api.questions",
    "plan": "solver.api.night_questions",
    "prep": "solver.api.questions",
    "price": "solver.api.night_questions",
    "rebalance": "solver.api.questions",
    "scale": "solver.api.questions",
    "sold": "solver.api.night_questions",
    "stock_log": "solver.api.night_questions",
    "stock_past": "solver.api.night_questions",
    "swap": "solver.api.questions",
    "tradeoff": "solver.api.questions",
    "vary": "solver.api.questions",
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
