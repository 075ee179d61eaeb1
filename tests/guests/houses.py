"""Random houses: ingredients made of each other to any depth, and bars that pour them."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from tests.guests.raw import Tables, toml
from tests.ingredient_tables import ingredient_tables

TODAY = date(2026, 5, 8)
ALLERGENS = (
    "gluten", "crustaceans", "egg", "fish", "peanut", "soy", "milk", "nuts", "celery", "mustard",
    "sesame", "sulphites", "lupin", "molluscs",
)  # fmt: skip
ANIMAL = ("milk", "egg", "honey", "fish", "insect", "meat", "fining")
DECLARED = ("quinine", "caffeine", "carmine")
LIBRARY = sorted(ingredient_tables())
SYRUPS = ("syrup/fruit", "syrup/spice", "syrup/nut", "liqueur/bitter", "juice/sour", "foam")


def _figure(unit: str, value: float) -> dict[str, Any]:
    return {unit: value, "basis": "estimate", "source": "made up for a test"}


def stated(kind: str, *, sugar: float = 50.0, abv: float = 0.0) -> dict[str, Any]:
    """The figures of something in a bottle."""
    acid = 6.0 if kind == "juice/sour" else 0.0
    return {
        "kind": kind,
        "abv": _figure("pct", abv),
        "sugar": _figure("g_100ml", 2.0 if acid else sugar),
        "acid": _figure("g_100ml", acid),
        **({"acids": {"citric": 1.0}} if acid else {}),
    }


@st.composite
def houses(draw: st.DrawFn) -> Tables:
    """Up to eight ingredients; each may go into those after it, in whatever order they stand."""
    count = draw(st.integers(1, 8))
    keys = [f"house-{number}" for number in range(count)]
    found: dict[str, dict[str, Any]] = {}
    some = st.lists(st.sampled_from(LIBRARY), max_size=3, unique=True)
    words = {
        "allergens": ALLERGENS, "may_contain": ALLERGENS, "animal": ANIMAL, "may_animal": ANIMAL,
        "declare": DECLARED,
    }  # fmt: skip
    for number, key in enumerate(keys):
        cooked = draw(st.booleans())
        kind = draw(st.sampled_from(SYRUPS))
        table: dict[str, Any] = {"name": f"the {key}", "character": []}
        table |= stated(kind) if cooked else {"kind": kind}
        for name, known in words.items():
            if draw(st.booleans()):
                table[name] = draw(st.lists(st.sampled_from(known), max_size=2, unique=True))
        into = (
            draw(st.lists(st.sampled_from(keys[:number]), max_size=3, unique=True))
            if number
            else []
        )
        into += draw(some)
        forms = ["recipe", "made_of", "both", "neither"] if cooked else ["recipe", "both"]
        form = draw(st.sampled_from(forms))
        if form in ("recipe", "both") and into:
            table["recipe"] = {"inputs": dict.fromkeys(into[:2] or into, "100 g")}
            steps = [{"do": "add", "ingredient": name, "amount": "50 g"} for name in into[2:]]
            table["recipe"]["steps"] = steps
        elif form == "made_of":
            table["made_of"] = into
        if form == "both":
            table["made_of"] = draw(some)
        if not cooked and "recipe" not in table:
            table["recipe"] = {"inputs": {"water": "100 g"}}
        found[key] = table
    order = draw(st.permutations(keys))
    return {key: found[key] for key in order}


def bar_of(folder: Path, house: Tables, shelf: Sequence[str] = ()) -> Bar:
    """A bar with that house and those bottles; `shelf` are rows."""
    (folder / "house").mkdir(parents=True, exist_ok=True)
    (folder / "specs").mkdir(exist_ok=True)
    (folder / "bar.toml").write_text('name = "made up"\n', encoding="utf-8")
    (folder / "house" / "house.toml").write_text(toml(house), encoding="utf-8")
    rows = "ingredient,bottle,price,on_hand,opened,use_by,note\n" + "".join(
        f"{row}\n" for row in shelf
    )
    (folder / "shelf.csv").write_text(rows, encoding="utf-8")
    return load_bar(folder, TODAY)


POURED = {
    "spirit": ("gin", "rye-whiskey", "vodka", "mezcal", "aged-rum", "cognac",
               "non-alcoholic-spirit"),
    "sour": ("lemon-juice", "lime-juice", "bottled-lime-juice", "verjus"),
    "sweet": ("simple-syrup", "orgeat", "honey-syrup", "commercial-orgeat", "grenadine",
              "cinnamon-syrup", "lime-cordial", "raspberry-syrup"),
    "more": ("amaretto", "dry-vermouth", "sweet-vermouth", "red-bitter", "cream-liqueur",
             "falernum", "coffee-liqueur", "aromatic-bitters", "creole-bitters", "orange-bitters",
             "egg-white",
             "aquafaba", "heavy-cream", "oat-milk", "coconut-milk", "half-and-half", "egg-yolk",
             "strong-black-tea", "kombucha", "tonic-water", "ginger-beer", "soda-water", "lager",
             "quinquina-blanc", "worcestershire-sauce", "advocaat"),
}  # fmt: skip
MIXED_IN = (
    "almonds", "hazelnuts", "heavy-cream", "egg-white", "honey", "vodka", "sweet-vermouth",
    "lemon-juice", "rhubarb", "cassia", "orgeat", "butter", "ground-coffee", "celery-salt",
    "worcestershire-sauce", "white-sugar", "water", "oat-milk", "kombucha", "red-bitter",
    "tonic-water",
)  # fmt: skip


def random_house(rng: random.Random) -> dict[str, dict[str, Any]]:
    """Bottles of the house that a sour can pour, made of each other and of what harms somebody."""
    found: dict[str, dict[str, Any]] = {}
    for number in range(rng.randint(1, 6)):
        key = f"house-{number}"
        table: dict[str, Any] = {"name": f"the {key}", "character": ["cane"]}
        table |= stated(rng.choice(["syrup/fruit", "syrup/spice", "juice/sour"]))
        if rng.random() < 0.9:
            table |= {"allergens": [], "animal": []}
        into = rng.sample(MIXED_IN, rng.randint(1, 2)) + rng.sample(list(found), min(len(found), 1))
        how = rng.random()
        if how < 0.5:
            table["recipe"] = {"inputs": dict.fromkeys(into, "100 g")}
        elif how < 0.85:
            table["made_of"] = into
        found[key] = table
    return found


def random_shelf(rng: random.Random, house: Tables) -> list[str]:
    """Rows of a shelf: some of each part, and the house's own."""
    keys = [key for part in POURED.values() for key in rng.sample(part, min(len(part), 3))]
    return [f"{key},700 ml,20,2 bottles,,," for key in (*keys, *house)]
