"""Parts of OR-Tools that are loaded late: an interrupt while they load stays one."""

from __future__ import annotations

import pytest

from solver.cli.exit_messages import code_of, sentence_of
from solver.cli.exits import INTERRUPTED
from solver.search.milp import load_ortools


def interrupted(_: str) -> object:
    """What a compiled module does of an interrupt: pybind11's raise_from."""
    raise ImportError("initialization failed") from KeyboardInterrupt()


def missing(name: str) -> object:
    raise ImportError(f"no {name}")


@pytest.mark.parametrize("load", [load_ortools.cp_sat, load_ortools.math_opt])
def test_an_interrupt_while_a_solver_is_loaded_is_an_interrupt(
    load: object, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert callable(load)
    monkeypatch.setattr(load_ortools, "import_module", interrupted)
    with pytest.raises(KeyboardInterrupt):
        load()
    monkeypatch.setattr(load_ortools, "import_module", missing)
    with pytest.raises(ImportError, match="no ortools"):
        load()


def test_a_command_that_is_interrupted_while_anything_loads_ends_as_interrupted() -> None:
    with pytest.raises(ImportError) as raised:
        interrupted("numpy")
    assert (code_of(raised.value), sentence_of(raised.value)) == (INTERRUPTED, "interrupted")
