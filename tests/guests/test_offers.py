"""Whatever the bar and whatever the words: no drink that carries what was excluded is offered.

What a drink carries is found by walking the raw tables of library and house, without the project.
"""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

import solver
from solver.errors import BadInput, BadInputs, Unproven
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.profile_files import find_profile, profile_files
from solver.pantry.spec import Spec
from solver.pantry.vocabulary import ANIMAL_ORIGINS
from solver.requests.demands import DemandKind
from solver.requests.read_request import WrittenRequest, read_request
from solver.requests.request import Request
from solver.search.milp.cpsat import CpSat
from solver.tasks.check import check
from solver.tasks.design import design
from solver.tasks.design_result import Design, Explain
from solver.tasks.respec.bar_changes import read_changes
from solver.tasks.respec.book import rebalance_book
from solver.tasks.respec.swap import swap
from tests.examples import examples
from tests.guests.houses import TODAY, bar_of, random_house, random_shelf, stated
from tests.guests.raw import Tables, walk

DEMO = Path(__file__).parents[2] / "demo"


@dataclass(frozen=True)
class Oracle:
    """What must not be in a drink of somebody who says a word, by the raw tables."""

    allergens: frozenset[str] = frozenset()
    animal: frozenset[str] = frozenset()
    declare: frozenset[str] = frozenset()
    keys: frozenset[str] = frozenset()
    alcohol: bool = False

    def carried_by(self, key: str, house: Tables) -> bool:
        met = walk(key, house)
        not_known = bool(self.allergens or self.animal) and bool(met.no_allergens_stated)
        named = self.keys and not (self.allergens or self.animal) and bool(met.untold)
        return bool(
            self.allergens & (met.allergens | met.may_contain)
            or self.animal & (met.animal | met.may_animal)
            or (self.animal and met.no_animal_stated)
            or self.declare & met.declare
            or self.keys & met.keys
            or (self.alcohol and (met.alcohol or met.may_hold_alcohol))
            or not_known
            or named
        )


def excludes(
    allergens: str = "",
    *,
    animal: str = "",
    declare: str = "",
    keys: str = "",
    alcohol: bool = False,
) -> Oracle:
    held, animals, declared, named = (
        frozenset(text.split()) for text in (allergens, animal, declare, keys)
    )
    return Oracle(held, animals, declared, named, alcohol)


ALL_ANIMALS = " ".join(ANIMAL_ORIGINS)
WORDS: Mapping[str, Oracle] = {
    "almonds": excludes("nuts", keys="almonds"),
    "Hazelnuts": excludes("nuts", keys="hazelnuts"),
    "nut allergy": excludes("nuts"),
    "eggs": excludes("egg", animal="egg"),
    "egg-white": excludes("egg", animal="egg", keys="egg-white egg-yolk whole-egg"),
    "Heavy Cream": excludes("milk", animal="milk", keys="heavy-cream half-and-half"),
    "lactose": excludes("milk", animal="milk"),
    "gluten-free": excludes("gluten"),
    "coeliac": excludes("gluten"),
    "prawns": excludes("crustaceans"),
    "celery": excludes("celery", keys="celery-salt celery-bitters"),
    "sulfites": excludes("sulphites"),
    "legumes": excludes("peanut soy lupin", keys="aquafaba"),
    "honey": excludes(animal="honey", keys="honey"),
    "carmine": excludes(animal="insect", declare="carmine"),
    "quinine": excludes(declare="quinine"),
    "vegan": excludes("egg fish milk crustaceans molluscs", animal=ALL_ANIMALS),
    "alcohol": excludes(alcohol=True),
    "pregnant": excludes("egg", animal="egg", declare="quinine", alcohol=True),
    "lemon-juice": excludes(keys="lemon-juice bottled-lemon-juice"),
    "rhubarb": excludes(keys="rhubarb"),
    "cinnamon": excludes(keys="cassia ceylon-cinnamon cinnamon-syrup"),
    "orgeat": excludes("nuts", keys="orgeat commercial-orgeat"),
    "vodka": excludes(keys="vodka"),
    "sugar": excludes(keys="white-sugar"),
    "only gin": excludes(keys="gin"),
}
EACH = {"no nuts": excludes("nuts"), "no eggs": excludes("egg", animal="egg")}
"""Two wishes that may be asked for in one text, and are dropped one by one."""
BOTH = excludes("nuts egg", animal="egg")
PROFILES = (
    "sour", "sour-foam", "highball", "old-fashioned", "cream", "flip", "zero-proof-sour", "stirred",
    "buck", "equal-parts", "hot-coffee", "colada",
)  # fmt: skip
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]


def asked_of(rng: random.Random) -> dict[str, Oracle]:
    words = dict(rng.sample(sorted(WORDS.items()), rng.choice([1, 1, 2])))
    return words if rng.random() < 0.9 else {"no nuts and no eggs": BOTH}


def assert_none(keys: Iterable[str], words: Mapping[str, Oracle], house: Tables, what: str) -> None:
    for key in keys:
        for word, oracle in words.items():
            assert not oracle.carried_by(key, house), f"{what} pours {key} without {word}"


def poured(found: Design) -> list[list[str]]:
    answers = [each for each in (found.answer, *found.alternatives) if each is not None]
    return [[item.key for item in answer.ingredients] for answer in answers]


def offers(seed: int) -> int:
    """Ask a random bar for drinks in a guest's words; how many it offered."""
    rng = random.Random(seed)
    house = random_house(rng)
    words = asked_of(rng)
    with tempfile.TemporaryDirectory() as folder:
        bar = bar_of(Path(folder), house, random_shelf(rng, house))
        profile = find_profile(rng.choice(PROFILES), profile_files(None))
        request = read_request(
            WrittenRequest(unwanted=tuple(words), alternatives=2, seconds=20.0), bar
        )
        ask = rng.choice([_designed, _checked])
        found = ask(profile, bar, request)
        count = 0
        for keys in poured(found):
            assert_none(keys, words, house, profile.name)
            count += 1
        for way in found.why.ways_out if found.why else ():
            dropped = {c.demand.subject for c in way.changes if c.demand.kind is DemandKind.WITHOUT}
            wishes = EACH if "no nuts and no eggs" in words else words
            kept = {word: oracle for word, oracle in wishes.items() if word not in dropped}
            assert_none((i.key for i in way.answer.ingredients), kept, house, "a way out")
        return count


def _designed(profile: object, bar: Bar, request: Request) -> Design:
    return design(profile, bar, request, CpSat(), explain=Explain.LIMITS)  # type: ignore[arg-type]


def _checked(profile: object, bar: Bar, request: Request) -> Design:
    return check("guest", profile, bar, request, CpSat(), Explain.LIMITS).found  # type: ignore[arg-type]


def swaps(seed: int) -> int:
    """Ask a random bar to swap something in a guest's words; how many drinks it offered."""
    rng = random.Random(seed)
    house = random_house(rng)
    words = asked_of(rng)
    with tempfile.TemporaryDirectory() as folder:
        bar = bar_of(Path(folder), house, random_shelf(rng, house))
        stock = [row.ingredient for row in bar.stock if row.ingredient.per == "ml"]
        chosen = rng.sample(stock, 3)
        garnish = rng.choice([None, None, "toasted almonds", "lemon wheel", "honey rim"])
        lines = [{"ingredient": item.key, "amount": "1 oz"} for item in chosen]
        table = {"name": "a drink", "technique": "stir", "garnish": garnish, "pours": lines}
        instead = rng.choice([None, rng.choice(stock).key])
        spec = Spec.model_validate(table)
        try:
            found = swap(spec, bar, chosen[0].key, instead, CpSat(), unwanted=tuple(words))
        except (BadInput, BadInputs, Unproven):
            return 0
        names = {"toasted almonds": "almonds", "honey rim": "honey"}
        for each in found.found:
            after = each.result.after
            keys = [line.ingredient.key for line in after.lines] if after else []
            keys += [names[garnish]] if garnish in names else []
            assert_none(keys, words, house, "a swap")
        for carried in found.objections:
            assert any(carried.word in each for each in words)
        return len(found.found)


@settings(max_examples=examples(0.2), suppress_health_check=SLOW)
@example(15)  # what a bottle is made of shows in few bars
@given(st.integers(0, 2**32))
def test_no_design_carries_what_was_excluded(seed: int) -> None:
    offers(seed)


@settings(max_examples=examples(0.2), suppress_health_check=SLOW)
@given(st.integers(0, 2**32))
def test_no_swap_carries_what_was_excluded(seed: int) -> None:
    swaps(seed)


def test_these_bars_do_offer_drinks() -> None:
    """What is never offered anything proves nothing."""
    assert sum(offers(seed) > 0 for seed in range(4)) >= 2
    assert sum(swaps(seed) > 0 for seed in range(10)) >= 2


@pytest.mark.sweep
@pytest.mark.parametrize("seed", range(400))
def test_no_drink_of_many_bars_carries_what_was_excluded(seed: int) -> None:
    offers(seed)
    swaps(seed)


def test_a_book_is_poured_anew_from_nothing_gone_and_nothing_past(tmp_path: Path) -> None:
    shelf = [
        "bourbon,700 ml,20,2 bottles,,,", "rye-whiskey,700 ml,20,2 bottles,,2026-05-07,",
        "irish-whiskey,700 ml,20,2 bottles,,,", "blended-scotch,700 ml,20,0,,,",
        "japanese-whisky,700 ml,20,2 bottles,,,", "simple-syrup,700 ml,2,2 bottles,,,",
    ]  # fmt: skip
    bar_of(tmp_path, {}, shelf)
    (tmp_path / "specs" / "one.toml").write_text(
        'name = "One"\ntechnique = "stir"\n[[pours]]\ningredient = "bourbon"\namount = "2 oz"\n'
        '[[pours]]\ningredient = "simple-syrup"\namount = "1/4 oz"\n',
        encoding="utf-8",
    )
    bar = load_bar(tmp_path, TODAY)
    changes = read_changes((), ("bourbon", "irish-whiskey"), (), bar)
    (entry,) = rebalance_book(bar, changes, CpSat()).entries
    assert entry.result is not None
    assert entry.result.after is not None
    keys = {line.ingredient.key for line in entry.result.after.lines}
    assert keys == {"japanese-whisky", "simple-syrup"}


def test_egg_white_and_what_stands_in_for_it_agree(tmp_path: Path) -> None:
    shelf = [f"{key},700 ml,20,2 bottles,,," for key in
             ("rye-whiskey", "lemon-juice", "simple-syrup", "egg-white", "aquafaba")]  # fmt: skip
    bar = bar_of(tmp_path, {}, shelf)
    lines = [{"ingredient": key, "amount": amount} for key, amount in
             (("rye-whiskey", "2 oz"), ("lemon-juice", "3/4 oz"), ("simple-syrup", "3/4 oz"),
              ("egg-white", "3/4 oz"))]  # fmt: skip
    spec = Spec.model_validate({"name": "sour", "technique": "shake-egg", "pours": lines})
    unnamed = swap(spec, bar, "egg-white", None, CpSat(), unwanted=("egg",))
    named = swap(spec, bar, "egg-white", "aquafaba", CpSat(), unwanted=("egg",))
    assert [item.key for each in unnamed.found for item in each.instead] == ["aquafaba"]
    assert named.found[0].instead == unnamed.found[0].instead
    refused = swap(spec, bar, "egg-white", None, CpSat(), unwanted=("egg", "legumes"))
    assert refused.found == ()
    both = swap(spec, bar, "egg-white", "aquafaba", CpSat(), unwanted=("egg", "legumes"))
    assert both.found == ()
    assert [each.name for each in both.objections] == ["aquafaba (chickpea liquor)"]


def test_what_stays_in_the_drink_is_looked_at_too(tmp_path: Path) -> None:
    shelf = [f"{key},700 ml,20,2 bottles,,," for key in
             ("rye-whiskey", "bourbon", "orgeat", "lemon-juice")]  # fmt: skip
    bar = bar_of(tmp_path, {}, shelf)
    lines = [{"ingredient": key, "amount": "1 oz"} for key in ("rye-whiskey", "orgeat")]
    spec = Spec.model_validate({"name": "drink", "technique": "shake", "pours": lines})
    assert swap(spec, bar, "rye-whiskey", None, CpSat()).found
    without = swap(spec, bar, "rye-whiskey", None, CpSat(), unwanted=("nuts",))
    assert without.found == ()
    assert [each.word for each in without.objections] == ["nuts"]
    assert swap(spec, bar, "rye-whiskey", "bourbon", CpSat(), unwanted=("nuts",)).found == ()


def house_with(inputs: Mapping[str, str]) -> dict[str, dict[str, object]]:
    """A house syrup that states no alcohol, no allergen, and what goes into it."""
    table = {"name": "syrup", "character": ["cane"], "allergens": [], "animal": []}
    return {"syrup": {**table, **stated("syrup/spice"), "recipe": {"inputs": inputs}}}


@pytest.mark.parametrize(
    ("inputs", "word"),
    [
        ({"vodka": "50 ml", "white-sugar": "1 kg", "water": "1 kg"}, "alcohol"),
        ({"lemon-juice": "50 ml", "white-sugar": "1 kg"}, "lemon juice"),
        ({"orgeat": "50 ml", "white-sugar": "1 kg", "water": "1 kg"}, "orgeat"),
        ({"cassia": "5 g", "white-sugar": "1 kg", "water": "1 kg"}, "cinnamon"),
        ({"rhubarb": "500 g", "white-sugar": "1 kg", "water": "1 kg"}, "rhubarb"),
        ({"egg-yolk": "50 ml", "white-sugar": "1 kg", "water": "1 kg"}, "egg white"),
    ],
)
def test_a_syrup_is_not_offered_to_who_avoids_what_is_in_it(
    tmp_path: Path, inputs: dict[str, str], word: str
) -> None:
    bar = bar_of(tmp_path, house_with(inputs))
    told = bar.told_of(bar.library.find("syrup"))
    assert bar.avoidable.word(word).against(told) is not None
    plain = bar_of(tmp_path, house_with({"white-sugar": "1 kg", "water": "1 kg"}))
    assert bar.avoidable.word(word).against(plain.told_of(plain.library.find("syrup"))) is None


def test_a_taste_is_looked_for_in_what_goes_in(tmp_path: Path) -> None:
    bar = bar_of(tmp_path, house_with({"lemon-juice": "50 ml", "white-sugar": "1 kg"}))
    told = bar.told_of(bar.library.find("syrup"))
    assert bar.avoidable.character("citrus").against(told) is not None
    assert bar.avoidable.character("smoke").against(told) is None


def test_a_way_out_drops_one_wish_of_a_list_and_keeps_the_others() -> None:
    """Who eats nothing of animals and is allergic to nuts is not offered nuts with honey."""
    bar = solver.open_bar(DEMO)
    found = solver.design(
        bar, "sour", include=["almond-spice-syrup"], without=["vegan, nuts and sulphites"]
    )
    assert found.ways_out
    for way in found.ways_out:
        dropped = {change.limit.removesuffix(" (as asked)") for change in way.changes}
        for thing in ("nuts", "sulphites"):
            assert thing not in way.answer.allergens or f"without {thing}" in dropped, way.says
    assert any("nuts" in way.answer.allergens for way in found.ways_out)


def test_what_distilling_leaves_of_a_cereal_is_said_and_not_decided() -> None:
    (wheat,) = solver.open_bar(DEMO).avoidable.each_word("no wheat")
    assert "distillates" in wheat.not_known[0]


def test_a_house_ingredient_that_says_nothing_of_what_is_in_it_is_left_out(tmp_path: Path) -> None:
    house = house_with({"water": "1 g"})
    del house["syrup"]["recipe"]
    house["syrup"]["character"] = []
    bar = bar_of(tmp_path, house)
    told = bar.told_of(bar.library.find("syrup"))
    for avoid in (
        bar.avoidable.word("lemon juice"), bar.avoidable.word("cinnamon"),
        bar.avoidable.word("only gin"), bar.avoidable.character("citrus"),
    ):  # fmt: skip
        assert avoid.against(told) is not None, avoid.word
    assert bar.avoidable.word("nuts").against(told) is None, "its allergens are stated"
    house["syrup"]["made_of"] = ["white-sugar", "water"]
    house["syrup"]["character"] = ["cane"]
    bar = bar_of(tmp_path, house)
    told = bar.told_of(bar.library.find("syrup"))
    assert bar.avoidable.word("lemon juice").against(told) is None
    assert bar.avoidable.character("citrus").against(told) is None
