"""A swap changes numbers: what is found is not read back from text."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.drinks.assess import assess
from solver.pantry.load_bar import load_bar
from solver.pantry.pour import Pour
from solver.pantry.spec import Spec, find_spec
from solver.search.milp.cpsat import CpSat
from solver.tasks.respec.swap import swap

DEMO = Path(__file__).parents[2] / "demo"


def test_what_a_swap_finds_is_not_read_back_from_text(monkeypatch: pytest.MonkeyPatch) -> None:
    bar = load_bar(DEMO)
    spec = find_spec("rope-store", bar.specs)
    reads: list[Spec] = []
    read = Spec.poured

    def counted(self: Spec, *given: object) -> tuple[Pour, ...]:
        reads.append(self)
        return read(self, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(Spec, "poured", counted)
    found = swap(spec, bar, "bourbon", None, CpSat()).found
    assert len(found) > 1
    assert {each.pours for each in reads if each.name == spec.name} == {spec.pours}


def test_the_file_of_a_swap_says_the_drink_that_was_proven() -> None:
    bar = load_bar(DEMO)
    best = swap(find_spec("rope-store", bar.specs), bar, "bourbon", None, CpSat()).best
    assert best is not None
    after = best.result.after
    assert after is not None
    again = assess(after.spec, bar)
    assert [line.ingredient.key for line in again.lines] == [p.ingredient.key for p in after.lines]
    assert [(line.part, line.top) for line in again.lines] == [
        (line.part, line.top) for line in after.lines
    ]
    amounts = [line.amount for line in after.lines]
    assert [line.amount for line in again.lines] == pytest.approx(amounts, rel=1e-6)
