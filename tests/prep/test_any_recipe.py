"""Whatever a recipe weighs: an answer that keeps every law, or a sentence."""

from __future__ import annotations

import math
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from solver.errors import BadInput, BadInputs
from solver.mixture import measure
from tests.examples import examples
from tests.prep.bars import cook, recipe

grams = st.sampled_from(
    ["0.000001 g", "1 g", "20 g", "333 g", "1 kg", "1.5 lb", "5000 kg", "999999999 g"]
)
volumes = st.sampled_from(["1 drop", "1 tsp", "30 ml", "400 ml", "1.5 L", "999999999 L"])
brix = st.sampled_from(["0.1 Brix", "12 Brix", "50 Brix", "66.7 Brix", "99 Brix"])
names = st.sampled_from(
    ["white-sugar", "water", "rhubarb", "almonds", "citric-acid", "honey", "lime-juice", "vodka",
     "heavy-cream", "olive-oil", "cassia"]
)  # fmt: skip
steps = st.one_of(
    st.builds('do = "simmer"; lost = "{}"'.format, grams),
    st.builds('do = "simmer"; time = "{}"'.format, st.sampled_from(["0 min", "10 min", "90 h"])),
    st.builds('do = "strain"; through = "cloth"; left = "{}"'.format, grams),
    st.sampled_from(['do = "strain"; through = "sieve"', 'do = "fine-filter"', 'do = "cool"']),
    st.builds('do = "add"; ingredient = "{}"; amount = "{}"'.format, names, grams),
)
SIEVE = 'do = "strain"; through = "sieve"'


@st.composite
def recipes(draw: st.DrawFn) -> str:
    inputs = draw(st.dictionaries(names, grams, min_size=1, max_size=4))
    measured = draw(
        st.fixed_dictionaries({}, optional={"weight": grams, "volume": volumes, "brix": brix})
    )
    fine = draw(st.sampled_from(["", '\n[syrup.recipe.accuracy]\nweight = "0.000001 g"\n']))
    kind = draw(st.sampled_from(["syrup/plain", "juice/fruit", "syrup/nut"]))
    text = recipe(
        "\n".join(f'{name} = "{amount}"' for name, amount in inputs.items()),
        "\n".join(draw(st.lists(steps, max_size=4))),
        "\n".join(f'{name} = "{value}"' for name, value in measured.items()),
        kind=kind,
    )
    return text + fine


@example(recipe('honey = "20 g"', SIEVE, 'weight = "0.000001 g"'))
@example(recipe('honey = "333 g"', SIEVE, 'volume = "1 drop"'))
@settings(max_examples=examples(0.75), suppress_health_check=[HealthCheck.too_slow])
@given(recipes())
def test_an_answer_keeps_every_law_or_there_is_a_sentence(house: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        try:
            prep = cook(Path(folder), house)
        except (BadInput, BadInputs):
            return
    for known in vars(prep.figures).values():
        assert math.isfinite(known.value)
        assert math.isfinite(known.sd)
        assert known.value >= -1e-9
    went_in = math.fsum(put.grams for put in prep.puts)
    lost = math.fsum(loss.grams.value for loss in prep.losses)
    spread = math.fsum(6 * put.grams_sd for put in prep.puts)
    assert abs(prep.figures.mass_g.value + lost - went_in) <= spread + 1e-6 * went_in
    assert prep.figures.activity.value <= 1
    bottle = measure(prep.ingredient.composition())
    assert float(bottle.density_g_ml) == pytest.approx(prep.figures.density_g_ml.value, rel=0.002)
    sugar = prep.figures.sugar_g_100ml.value
    assert float(bottle.sugar_g_100ml) == pytest.approx(sugar, abs=0.06, rel=0.002)
