"""The compiled parts of OR-Tools, loaded when a program is first solved."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from solver.errors import is_interrupt


def cp_sat() -> Any:
    """The layer under `cp_model`, whose public module imports pandas."""
    return _loaded("ortools.sat.python.cp_model_helper")


def math_opt() -> Any:
    """MathOpt, which asks HiGHS and SCIP."""
    return _loaded("ortools.math_opt.python.mathopt")


def _loaded(name: str) -> Any:
    """A module. A user who interrupts while it loads gets an interrupt, and not the ImportError
    that a compiled module makes of it."""
    try:
        return import_module(name)
    except ImportError as error:
        if is_interrupt(error):
            raise KeyboardInterrupt from error
        raise
