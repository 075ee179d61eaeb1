"""What of a drink moves when it is poured anew: as its spec, its profile or its kinds say."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from solver.clock import Clock
from solver.drinks.assess import assess
from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.defaults import load_defaults
from solver.pantry.load_bar import load_bar
from solver.pantry.own_figures import with_own_figures
from solver.pantry.profile_files import load_profiles
from solver.pantry.spec import Spec, SpecPour
from solver.search.milp.cpsat import CpSat
from solver.tasks.respec.held_ranges import held_ranges
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import rebalance
from solver.tasks.respec.slots import Slot, moves
from tests.respec.specs import DEMO, demo, poured

BAR = demo()
SOUR = Spec(
    name="a sour",
    profile="sour",
    pours=tuple(
        SpecPour(ingredient=key, amount=amount)
        for key, amount in (("gin", "2 oz"), ("lemon-juice", "3/4 oz"), ("simple-syrup", "3/4 oz"))
    ),
)


def anew(spec: Spec, bar: Bar, before: Bar = BAR) -> Rebalanced:
    """The spec poured anew at a bar, held to what it was at another."""
    made = assess(spec, bar)
    places = [Slot(at, line, (line.ingredient,)) for at, line in enumerate(made.lines)]
    kept = held_ranges(assess(spec, before), before)
    return rebalance(places, made, kept, bar, CpSat(), Clock.of(60))


def measured_anew(key: str, figure: str, factor: float) -> Bar:
    item = BAR.bottles.find(key)
    return BAR.with_bottle(with_own_figures(item, {figure: getattr(item, figure).value * factor}))


def with_word(spec: Spec, at: int, word: str) -> Spec:
    pours = list(spec.pours)
    pours[at] = pours[at].model_copy(update={"moves": word})
    return spec.model_copy(update={"pours": tuple(pours)})


def words(spec: Spec, bar: Bar = BAR) -> list[str]:
    made = assess(spec, bar)
    return [moves(Slot(at, line, (line.ingredient,)), made) for at, line in enumerate(made.lines)]


def test_every_built_in_profile_says_what_moves_and_where_that_is_from() -> None:
    never = load_defaults().moves.never
    for each in load_profiles():
        assert each.moves is not None, each.name
        assert each.moves.basis == "practice"
        assert each.moves.text.startswith("Common practice, no source")
        for part in each.parts:
            if part.kinds and all(kind.partition("/")[0] in never for kind in part.kinds):
                assert each.moves.of(part.name) == "never", (each.name, part.name)


def test_the_spec_has_the_say_then_the_profile_then_the_kind() -> None:
    assert words(SOUR) == ["last", "first", "first"]
    assert words(with_word(SOUR, 0, "never")) == ["never", "first", "first"]
    bitters = SpecPour(ingredient="aromatic-bitters", amount="2 dashes")
    alone = SOUR.model_copy(update={"profile": None, "pours": (*SOUR.pours, bitters)})
    assert words(alone) == ["last", "first", "first", "never"]


def test_what_never_moves_is_poured_as_it_was() -> None:
    bar = measured_anew("gin", "abv", 0.85)
    free = anew(SOUR, bar)
    assert poured(free.after)["gin"] > poured(free.before)["gin"]
    held = anew(with_word(SOUR, 0, "never"), bar)
    assert poured(held.after)["gin"] == poured(held.before)["gin"]
    assert not held.held


@pytest.mark.parametrize("first", range(3))
def test_of_as_few_changes_those_of_what_moves_first(first: int) -> None:
    """Lemons are sharper, by little: a little less of them, of gin or of syrup would each do."""
    spec = SOUR.model_copy(update={"profile": None, "technique": "shake"})
    for at in range(3):
        spec = with_word(spec, at, "first" if at == first else "last")
    fine = "two-and-a-half-ml"
    bar = measured_anew("lemon-juice", "acid", 1.1).with_pour_set(fine)
    found = anew(spec, bar, BAR.with_pour_set(fine))
    assert found.held
    assert [row.line.ingredient.key for row in found.changes] == [spec.pours[first].ingredient]


def test_a_profile_of_the_bar_says_it_for_its_drinks(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    path = tmp_path / "demo" / "profiles" / "bollard-sour.toml"
    text = path.read_text().replace("[source]", '[moves]\nnever = ["base"]\nfirst = []\n\n[source]')
    path.write_text(text)
    bar = load_bar(tmp_path / "demo")
    spec = SOUR.model_copy(update={"profile": "bollard-sour"})
    found = words(spec.model_copy(update={"pours": SOUR.pours[:2]}), bar)
    assert found == ["never", "last"]


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ('never = ["bass"]', "what never moves: 'bass' is no part here"),
        ('first = ["base"]\nnever = ["base"]', "base moves first, and never"),
    ],
)
def test_a_slip_in_what_moves_is_named(tmp_path: Path, table: str, says: str) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    path = tmp_path / "demo" / "profiles" / "bollard-sour.toml"
    path.write_text(path.read_text().replace("[source]", f"[moves]\n{table}\n\n[source]"))
    with pytest.raises((BadInput, BadInputs), match=says):
        load_bar(tmp_path / "demo").profile("bollard-sour")
