"""What a kitchen usually does, where nobody weighed it; how well it weighs, where nobody said.

Every figure is common practice without a source unless it says so. All are standard deviations or
have one beside them: what they lead to is an expected range and never a measurement.
"""

from __future__ import annotations

from typing import Final

SIMMER_G_MIN: Final = 11.0
"""Steam from a gentle simmer in an open pan, grams a minute: half an hour takes a third of the
water of 1 kg of sugar and 1 kg of water. A wide pan on a high flame loses several times that."""
SIMMER_SPREAD: Final = 0.5
"""Standard deviation of the steam, as a share of it."""

HELD_G_PER_G: Final = 4.0
"""Liquid that wet pulp and spice hold back, grams for each gram that does not dissolve: pulp that
was pressed holds 2, ground spice in a cloth up to 7."""
HELD_BY_KIND: Final = {
    "raw/nut": 1.5, "raw/seed": 1.5, "raw/cocoa": 1.5, "raw/fat": 0.1, "raw/grain": 1.5,
    "raw/dairy": 6.0,
}  # fmt: skip
"""The same where most of what does not dissolve is fat, which holds nothing, or starch, which only
swells when it is boiled; a curd holds more: of 100 g of strained yogurt 14 are fat and protein
(USDA FoodData Central, SR Legacy: yogurt, Greek, plain, whole milk)."""
FILM_SHARE: Final = {"sieve": 0.02, "cloth": 0.03, "paper": 0.04}
"""Liquid that stays on pan and strainer, as a share of it all."""
BOWL_G: Final = 10.0
BOWL_SHARE: Final = 0.03
"""What stays on bowl and spoon where nothing was boiled or strained: 10 g at the most, or 3 % where
that is more."""
HELD_SPREAD: Final = 0.6
"""Standard deviation of what is held back, as a share of it."""
PASSES: Final = {"sieve": 0.1, "cloth": 0.02, "paper": 0.0}
"""Share of what does not dissolve that runs through."""

SCALE_G: Final = 1.0
SCALE_SHARE: Final = 0.001
"""A kitchen scale: one gram, or a thousandth where that is more."""
JUG_ML: Final = 5.0
JUG_SHARE: Final = 0.015
"""A measuring jug: 5 mL, or 1.5 % where that is more."""
REFRACTOMETER_BRIX: Final = 0.4
"""A hand refractometer on a dark and cloudy syrup; its own scale has steps of 0.2 to 0.5."""
BRIX_PER_CELSIUS: Final = 0.075
"""What a refractometer without compensation shows too little for each degree above 20 °C; ICUMSA's
table has 0.07 to 0.08 for strong syrups, from memory."""
BRIX_PER_CELSIUS_SHARE: Final = 0.15
"""Standard deviation of that correction, as a share of it."""
WET_G: Final = 2.0
WET_SHARE: Final = 0.02
"""Strained solids weighed wet in a strainer that was weighed dry: 2 g, or 2 %."""
POUR_SHARE: Final = 0.01
"""An input measured by volume: 1 % of it."""

SPREAD_BY_BASIS: Final = {
    "definition": 0.0,
    "published": 0.03,
    "computed": 0.01,
    "practice": 0.1,
    "memory": 0.08,
    "estimate": 0.15,
}
"""Standard deviation of a figure that states no range, as a share of it, by where it is from."""
ABV_PCT: Final = 0.15
"""Standard deviation of a label's strength, % vol: the United States let a label be 0.3 off (27 CFR
19.356)."""

ICE_TO_MIX_G: Final = {
    "shake": 200.0, "shake-egg": 200.0, "shake-top": 200.0, "stir": 200.0, "stir-top": 200.0,
    "throw": 250.0, "blend": 170.0,
}  # fmt: skip
"""Ice that a drink is shaken, stirred or blended with, grams a serve; what is mixed in the glass
needs none beside that."""
ICE_IN_GLASS_G: Final = {"on ice": 150.0, "crushed ice": 200.0}
"""Ice that a drink stands on, grams a serve."""
