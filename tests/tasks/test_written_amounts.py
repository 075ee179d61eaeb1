"""What is written into a spec is read again, and as the same amount."""

from __future__ import annotations

import pytest

from solver.quantities import parse_pour
from solver.tasks.save import written_amount
from tests.each import each
from tests.tasks.bars import demo


@each([59.147, 7.393375, 0.92, 22.5, 100.0, 1.125])
def test_an_amount_that_no_jigger_has_is_read_as_it_was_written(ml: float) -> None:
    gin = demo().bottles.find("gin")
    read = parse_pour(written_amount(gin, ml, "jigger", demo()), demo().measures)
    assert gin.units(read) == pytest.approx(ml, rel=1e-6)
