"""The words that files may use mean something everywhere."""

from solver.mixture.melt import TECHNIQUES as CURVES
from solver.pantry.vocabulary import TECHNIQUE_NAMES


def test_every_technique_has_a_melt_and_every_melt_a_technique() -> None:
    assert list(TECHNIQUE_NAMES) == list(CURVES)
