"""What a batch is mixed in: the smallest vessel of the bar that leaves room to stir."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.bar_file import read_bar_file
from solver.pantry.load_bar import load_bar
from solver.pantry.spec import find_spec
from solver.pantry.vessels import Vessel, smallest_for
from solver.show.text.batch import batch_text
from solver.tasks.batch import Size, batch_of

DEMO = Path(__file__).parents[2] / "demo"
SIZES = st.lists(st.floats(1, 1e5), max_size=6)


@given(volume_ml=st.floats(1, 1e5), sizes=SIZES)
def test_it_fits_with_its_headspace_and_no_smaller_one_does(
    volume_ml: float, sizes: list[float]
) -> None:
    vessels = [Vessel(str(at), size) for at, size in enumerate(sizes)]
    found = smallest_for(volume_ml, vessels)
    fitting = [each for each in vessels if volume_ml <= 0.95 * each.volume_ml]
    assert (found is None) == (not fitting)
    if found is not None:
        assert found in fitting
        assert found.volume_ml == min(each.volume_ml for each in fitting)


def said(bar: Bar, serves: int) -> str:
    found = batch_of(
        find_spec("weighbridge", bar.specs), bar, Size(serves=serves), made=date(2026, 5, 8)
    )
    return next(line for line in batch_text(found, bar).splitlines() if line.startswith("Mix it"))


def test_the_bars_own_vessel_is_named_or_how_large_one_has_to_be() -> None:
    bar = load_bar(DEMO)
    own = replace(bar, vessels=(Vessel("jug", 2000), Vessel("pail", 8000)), show="ml")
    assert said(own, 5).startswith("Mix it in the jug, 2 L: ")
    assert said(own, 20).startswith("Mix it in the pail, 8 L: ")
    assert "the largest vessel here, the pail, holds 8 L" in said(own, 200)
    assert "vessel" not in said(replace(bar, vessels=()), 200)


@pytest.mark.parametrize("size", ["0 L", "large", "5 kg"])
def test_what_holds_nothing_is_no_vessel(size: str, tmp_path: Path) -> None:
    path = tmp_path / "bar.toml"
    path.write_text(f'name = "b"\n[vessels]\npail = "{size}"\n', encoding="utf-8")
    with pytest.raises(BadInput) as refused:
        read_bar_file(path)
    assert refused.value.where is not None
    assert refused.value.where.line == 3
