"""equipour: design mixed drinks from the shelf, and prove the result.

What a program may use is listed in `__all__`, and loaded when it is first asked for.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from solver.api.ask import assess as assess
    from solver.api.ask import design as design
    from solver.api.ask import open_bar as open_bar
    from solver.api.ask import prep as prep
    from solver.api.ask import rebalance as rebalance
    from solver.api.ask import scale as scale
    from solver.api.ask import swap as swap
    from solver.api.ask import tradeoff as tradeoff
    from solver.api.cooked import Prep as Prep
    from solver.api.fields import Answer as Answer
    from solver.api.repoured import Rebalance as Rebalance
    from solver.api.repoured import Scaled as Scaled
    from solver.api.repoured import Swap as Swap
    from solver.api.results import Assessment as Assessment
    from solver.api.results import Design as Design
    from solver.api.results import Tradeoff as Tradeoff
    from solver.errors import BadInput as BadInput
    from solver.errors import BadInputs as BadInputs
    from solver.pantry.bar import Bar as Bar

_HOME: Final = {
    "Answer": "solver.api.fields",
    "Assessment": "solver.api.results",
    "BadInput": "solver.errors",
    "BadInputs": "solver.errors",
    "Bar": "solver.pantry.bar",
    "Design": "solver.api.results",
    "Prep": "solver.api.cooked",
    "Rebalance": "solver.api.repoured",
    "Scaled": "solver.api.repoured",
    "Swap": "solver.api.repoured",
    "Tradeoff": "solver.api.results",
    "assess": "solver.api.ask",
    "design": "solver.api.ask",
    "open_bar": "solver.api.ask",
    "prep": "solver.api.ask",
    "rebalance": "solver.api.ask",
    "scale": "solver.api.ask",
    "swap": "solver.api.ask",
    "tradeoff": "solver.api.ask",
}
"""Where each public name is at home: the command line's help imports none of it."""

__all__ = [
    "Answer",
    "Assessment",
    "BadInput",
    "BadInputs",
    "Bar",
    "Design",
    "Prep",
    "Rebalance",
    "Scaled",
    "Swap",
    "Tradeoff",
    "assess",
    "design",
    "open_bar",
    "prep",
    "rebalance",
    "scale",
    "swap",
    "tradeoff",
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
