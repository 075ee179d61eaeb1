"""Any change of any bottle: the drink stays within its range, or the answer says what does not."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from solver.clock import Clock
from solver.drinks.assess import assess
from solver.pantry.ingredient import Ingredient
from solver.pantry.own_figures import with_own_figures
from solver.search.milp.cpsat import CpSat
from solver.tasks.respec.book import stays
from solver.tasks.respec.held_ranges import held_ranges
from solver.tasks.respec.repour import rebalance
from solver.tasks.respec.slots import Slot
from tests.examples import examples
from tests.respec.specs import SPECS, beyond, demo, poured, spec_of

BAR = demo()
LINES = [
    (name, line.ingredient)
    for name in SPECS
    for line in assess(spec_of(name, BAR), BAR).lines
    if line.ingredient.per == "ml"
]


@settings(max_examples=examples(0.35))
@given(which=st.sampled_from(LINES), factor=st.floats(0.6, 1.4))
def test_a_bottle_that_is_weaker_or_stronger(which: tuple[str, Ingredient], factor: float) -> None:
    name, item = which
    figures = {figure: getattr(item, figure).value * factor for figure in ("abv", "sugar", "acid")}
    bar = BAR.with_bottle(with_own_figures(item, figures))
    spec = spec_of(name, bar)
    kept = held_ranges(assess(spec, BAR), BAR)
    made = assess(spec, bar)
    places = [Slot(at, line, (line.ingredient,)) for at, line in enumerate(made.lines)]
    found = rebalance(places, made, kept, bar, CpSat(), Clock.of(60), reasons=True)
    moved = {met.aim.measure.name for met in found.moved}
    assert moved == beyond(found, bar)
    assert found.held == (not moved)
    assert bool(found.conflicts) == bool(moved)
    assert (found.changed_pours == 0) == (poured(found.after) == poured(made))
    if stays(made, kept):
        assert found.held
        assert found.changed_pours == 0
    if found.finer is not None:
        assert not found.held
        assert found.finer.result.held
