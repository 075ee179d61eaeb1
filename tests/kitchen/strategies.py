"""Batches and recipes that a kitchen could have."""

from __future__ import annotations

import numpy as np
from hypothesis import strategies as st

from solver.kitchen.batch import COLUMNS, ETHANOL, INSOLUBLE, OTHER, SUGAR, WATER
from solver.kitchen.cooking import Add, Boil, Cooking, Input, Step, Strain
from solver.mixture.numeric import Floats

grams = st.floats(0, 2000)


@st.composite
def batches(draw: st.DrawFn) -> Floats:
    """A batch with anything in it, of shape (1, columns)."""
    return np.array([[draw(grams) for _ in COLUMNS]])


def one_gram(**shares: float) -> tuple[float, ...]:
    """One gram of something: shares by column, the rest water."""
    batch = np.zeros(len(COLUMNS))
    columns = {"ethanol": ETHANOL, "sugar": SUGAR, "other": OTHER, "insoluble": INSOLUBLE}
    for name, share in shares.items():
        batch[columns[name]] = share
    batch[WATER] = 1.0 - sum(shares.values())
    return tuple(float(x) for x in batch)


SUGAR_GRAM = one_gram(sugar=0.998, other=0.002)
WATER_GRAM = one_gram()
PULP_GRAM = one_gram(sugar=0.05, other=0.02, insoluble=0.02)


@st.composite
def cookings(draw: st.DrawFn) -> Cooking:
    """Sugar, water and pulp, simmered and strained in any order, with more added between."""
    inputs = tuple(
        Input(name, draw(st.floats(50, 1500)), 1.0, gram, sugar_sd=0.001, holds=4.0)
        for name, gram in (("sugar", SUGAR_GRAM), ("water", WATER_GRAM), ("pulp", PULP_GRAM))
    )
    steps: list[Step] = [Add(0), Add(1)]
    later: list[Step] = draw(
        st.permutations(
            [Add(2), Boil(draw(st.floats(1, 300)), 50.0), Strain(0.03, 0.6, draw(st.floats(0, 1)))]
        )
    )
    return Cooking(inputs, (*steps, *later))
