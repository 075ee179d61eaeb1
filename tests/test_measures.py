"""The table of measures agrees with the physics that it may not import."""

from solver.measures import ETHANOL_G_ML, MEASURES, Form
from solver.mixture import COLUMNS, ethanol


def test_the_density_of_ethanol_is_the_one_of_the_physics() -> None:
    assert ETHANOL_G_ML == ethanol.ETHANOL_G_ML


def test_every_measure_that_follows_from_totals_names_a_column() -> None:
    from_totals = [m for m in MEASURES.values() if m.form in {Form.CONCENTRATION, Form.TOTAL}]
    assert from_totals
    assert all(measure.column in COLUMNS for measure in from_totals)


def test_a_tolerance_is_a_share_of_the_aim_but_never_below_its_floor() -> None:
    sugar = MEASURES["sugar"]
    assert sugar.tolerance(10) == 1.0
    assert sugar.tolerance(1) == 0.5
