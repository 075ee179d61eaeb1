"""What programs import: public names, typed results with the documents' fields, loaded late."""

from __future__ import annotations

import ast
import json
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

import solver
from solver.api.ahead import Batch, Price
from solver.api.cooked import Prep, WrittenRecipe
from solver.api.counted import Sold, StockLog, StockPast
from solver.api.fields import Fields
from solver.api.menus import Menu
from solver.api.notebook import said
from solver.api.planned import Plan
from solver.api.repoured import Rebalance, Scaled, Swap
from solver.api.results import Assessment, Design, Tradeoff
from solver.api.varied import Variation
from solver.cli.main import main

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demo"
HEAVY = ("numpy", "pint", "pydantic", "ortools", "jinja2", "tomlkit")


def imported_by(code: str) -> set[str]:
    """The modules that a new interpreter holds after some code."""
    program = f"{code}\nimport sys\nprint(' '.join(sys.modules), file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return {name.partition(".")[0] for name in done.stderr.split()}


@pytest.mark.parametrize(
    "code",
    [
        "import solver; dir(solver)",
        "from solver.cli.main import main\nmain(['--help'], standalone_mode=False)",
        "from solver.cli.main import main\nmain(['design', '--help'], standalone_mode=False)",
    ],
)
def test_help_and_the_bare_package_import_nothing_heavy(code: str) -> None:
    assert imported_by(code).isdisjoint(HEAVY)


def test_every_public_name_is_there_sorted_and_typed() -> None:
    assert list(solver.__all__) == sorted(solver.__all__)
    typed = ast.parse((ROOT / "solver" / "__init__.py").read_text(encoding="utf-8"))
    seen = {
        alias.asname
        for node in ast.walk(typed)
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("solver.")
        for alias in node.names
    }
    assert seen == set(solver.__all__)
    for name in solver.__all__:
        assert getattr(solver, name).__doc__, name
    with pytest.raises(AttributeError, match="no attribute 'desing'"):
        solver.__getattr__("desing")


CONTRACT: list[tuple[type[Fields], str]] = [
    (Design, "design sour --abv 17% --with rhubarb-syrup --alternatives 1 --why"),
    (Design, "design sour-foam --without egg --verify"),
    (Design, "check highball --abv <=3% --why"),
    (Design, "check bollard-sour --drier --standard-drinks <=1"),
    (Assessment, "assess harbour-light"),
    (Assessment, "assess 2_oz_rye-whiskey 1_oz_sweet-vermouth"),
    (Variation, "vary harbour-light --jigger 1_ml"),
    (Variation, "vary 2_oz_rye-whiskey 1_oz_sweet-vermouth"),
    (Swap, "swap rope-store bourbon"),
    (Swap, "swap rope-store bourbon gin"),
    (Swap, "swap rope-store bourbon --without nuts"),
    (Scaled, "scale harbour-light --glass coupe=130_ml"),
    (Scaled, "scale dry-dock --volume 100_ml --pour-set five-ml"),
    (Swap, "swap rope-store bourbon --split bourbon_+_rye-whiskey --cost <=2.60"),
    (Swap, "swap rope-store bourbon --split bourbon_+_rye-whiskey --cost <=1"),
    (Rebalance, "rebalance --out-of bourbon"),
    (Rebalance, "rebalance --set lemon-juice.acid=4_g/100ml"),
    (Tradeoff, "tradeoff highball --points 4"),
    (Prep, "prep rhubarb-syrup --make 1_L"),
    (Prep, "prep almond-spice-syrup"),
    (WrittenRecipe, "recipe Tide_Mark 500_g_sugar 500_g_water strain_cloth --dry-run"),
    (Batch, "batch weighbridge --serves 20 --bottle 700_ml --at -12C"),
    (Batch, "batch harbour-light --keg 5_gal"),
    (Price, "price harbour-light --margin 78% --tax 19%"),
    (Price, "price harbour-light --under 3.00"),
    (Price, "price --all"),
    (Plan, "plan --drinks 20 harbour-light --on 2026-05-09"),
    (Plan, "plan --drinks 400 weighbridge --no-buying"),
    (StockLog, "stock log"),
    (StockPast, "stock past --within 10"),
    (Menu, "menu --forecast 12 --book --time-limit 5"),
    (Menu, "menu --forecast 12 --book --no-buying --price 13 --margin 78% --use-up rhubarb-syrup"),
]


def document(command: str) -> dict[str, Any]:
    arguments = [word.replace("_", " ") for word in command.split()]
    result = CliRunner().invoke(main, ["--bar", str(DEMO), *arguments, "--json"])
    found = json.loads(result.stdout)
    assert isinstance(found, dict)
    assert found.pop("format") == 1
    found.pop("task")
    return found


@pytest.mark.parametrize(("kind", "command"), CONTRACT, ids=[command for _, command in CONTRACT])
def test_documents_are_what_the_types_say_and_nothing_else(
    kind: type[Fields], command: str
) -> None:
    found = document(command)
    back = kind.model_validate(found).model_dump(mode="json", by_alias=True, exclude_unset=True)
    assert back == found


def test_a_program_asks_with_numbers_and_gets_what_the_command_line_says() -> None:
    bar = solver.open_bar(DEMO)
    found = solver.design(bar, "sour", abv=17.0, cost=(None, 3.0), include=["rhubarb-syrup"])
    typed = document("design sour --abv 17% --cost <=3 --with rhubarb-syrup")
    assert found.answer is not None
    assert [pour.ingredient for pour in found.answer.pours] == [
        pour["ingredient"] for pour in typed["answer"]["pours"]
    ]
    assert found.answer.finished.abv_pct == typed["answer"]["finished"]["abv_pct"]
    one = solver.design(bar, "sour", standard_drinks=1.0)
    assert one.answer is not None
    assert one.answer.finished.ethanol_g <= 12.0  # Germany


def test_programs_can_ask_everything() -> None:
    bar = solver.open_bar(DEMO)
    assert solver.assess(bar, "harbour-light").answer.name == "Harbour Light"
    steady = solver.vary(bar, "harbour-light", figures={("lemon juice", "acid"): (6.0, 6.1)})
    assert steady.on_target is not None
    assert steady.on_target > (solver.vary(bar, "harbour-light").on_target or 0) + 0.1
    with pytest.raises(solver.BadInput, match="no range of melt"):
        solver.vary(bar, "harbour-light", melt=(2.0, 1.0))
    with pytest.raises(solver.BadInput, match="not a figure"):
        solver.vary(bar, "harbour-light", figures={("lemon juice", "tartness"): (6.0, 6.1)})
    assert solver.swap(bar, "rope-store", "bourbon").in_ == ["rye-whiskey"]
    assert solver.scale(bar, "harbour-light", glass="coupe=130 ml").status == "kept"
    assert solver.rebalance(bar, out_of=["bourbon"]).counts["re-balanced"] == 1
    assert solver.tradeoff(bar, "highball", points=3).points[0].answer.pours
    assert solver.prep(bar, "rhubarb-syrup").life.days == 12
    menu = solver.menu(
        bar, 12, include={"dry-dock": "40%"}, sober="50%", guests=["alcohol"], new=False, spend=0
    )
    assert sum(offer.serves for offer in menu.menu) == 12
    assert {offer.spec: offer.serves for offer in menu.menu}["Dry Dock"] == 5
    with pytest.raises(solver.BadInput, match="'abvv' is not a measure"):
        solver.design(bar, "sour", abvv=17.0)


def test_programs_mix_ahead_price_plan_and_count(tmp_path: Path) -> None:
    shutil.copytree(DEMO, tmp_path / "demo")
    bar = solver.open_bar(tmp_path / "demo")
    mixed = solver.batch(bar, "weighbridge", serves=20)
    assert mixed.each_serve_ml == pytest.approx(mixed.bottle.volume_ml / 20)
    with pytest.raises(solver.BadInput, match="nothing says how much to make"):
        solver.batch(bar, "weighbridge")
    one = solver.price(bar, "harbour-light", margin_pct=78, tax_pct=19, under=3.0)
    (line,) = solver.price(bar, "harbour-light").drinks
    assert one.target_pour_cost_pct == pytest.approx(22)
    assert one.cheaper is not None
    assert line.cost == one.drinks[0].cost
    assert len(solver.price(bar).drinks) == 7
    sales: dict[str, Any] = {"file": DEMO / "sales.csv", "skip": ["coat check (invented)"]}
    before = (tmp_path / "demo" / "shelf.csv").read_bytes()
    assert solver.sold(bar, **sales).entry is not None
    assert (tmp_path / "demo" / "shelf.csv").read_bytes() == before
    found = solver.sold(bar, **sales, write=True)
    assert found.entry is not None
    moved = solver.open_bar(tmp_path / "demo")
    assert [entry.number for entry in solver.stock_log(moved).entries] == [1]
    assert solver.stock_past(moved).past == []
    assert solver.open_bar(DEMO).stocked("aged-rum") != moved.stocked("aged-rum")
    shutil.rmtree(tmp_path / "demo")
    shutil.copytree(DEMO, tmp_path / "demo")
    words = ["stock", "sold", str(DEMO / "sales.csv"), "--skip", "coat check (invented)", "--json"]
    asked = CliRunner().invoke(main, ["--bar", str(tmp_path / "demo"), *words])
    told = {k: v for k, v in json.loads(asked.stdout).items() if k not in ("format", "task")}
    assert Sold.model_validate(told) == found


class Words(HTMLParser):
    """The text of a page, and its tags."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, _: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def test_a_notebook_shows_the_drink_or_why_there_is_none() -> None:
    bar = solver.open_bar(DEMO)
    drink = solver.design(bar, "sour")._repr_html_()
    assert "lemon-juice" in drink
    assert "Proven." in drink
    assert "cannot hold together" in solver.design(bar, "highball", abv=(None, 3.0))._repr_html_()
    assert "on target" in solver.assess(bar, "harbour-light")._repr_html_()


@given(st.text(max_size=40))
def test_whatever_a_name_is_it_adds_no_markup_to_a_notebook(text: str) -> None:
    words = Words()
    words.feed(said(text, [text]))
    assert words.tags == {"p", "strong"}


def test_the_ten_lines_of_the_readme_run(capsys: pytest.CaptureFixture[str]) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    (lines,) = re.findall(r"^```python\n(.*?)^```$", readme, flags=re.MULTILINE | re.DOTALL)
    exec(compile(lines.replace('"demo"', repr(str(DEMO))), "README.md", "exec"), {})  # noqa: S102
    assert "optimal" in capsys.readouterr().out


NAN = float("nan")
REFUSED: dict[str, tuple[str, tuple[object, ...], dict[str, object]]] = {
    "abv='17%'": ("design", ("sour",), {"abv": "17%"}),
    "abv=True": ("design", ("sour",), {"abv": True}),
    "abv=nan": ("design", ("sour",), {"abv": NAN}),
    "abv=-3": ("design", ("sour",), {"abv": -3}),
    "abv=(18, 15)": ("design", ("sour",), {"abv": (18, 15)}),
    "abv=(15, 16, 17)": ("design", ("sour",), {"abv": (15, 16, 17)}),
    "abv=None": ("design", ("sour",), {"abv": None}),
    "include='gin'": ("design", ("sour",), {"include": "gin"}),
    "without='nuts'": ("design", ("sour",), {"without": "nuts"}),
    "serves=0": ("design", ("sour",), {"serves": 0}),
    "serves=1.5": ("design", ("sour",), {"serves": 1.5}),
    "alternatives=-1": ("design", ("sour",), {"alternatives": -1}),
    "seconds=0": ("design", ("sour",), {"seconds": 0}),
    "as_in_keeping_as=101": ("design", ("sour",), {"as_in_keeping_as": 101}),
    "'best' is not a goal": ("design", ("sour",), {"goal": "best"}),
    "'nearest' is not a goal": ("design", ("sour",), {"goal": "nearest"}),
    "'usual' is not a goal": ("design", ("sour",), {"goal": "usual"}),
    "Known: in-keeping, cheapest, lightest, fewest": ("design", ("sour",), {"goal": "closest"}),
    "profile=None": ("design", (None,), {}),
    "drink=['60 ml gin']": ("assess", (["60 ml gin"],), {}),
    "no drink is named": ("assess", (), {}),
    "out=None": ("swap", ("harbour-light", None), {}),
    "batch cannot take serves=0": ("batch", ("harbour-light",), {"serves": 0}),
    "make_ml=nan": ("batch", ("harbour-light",), {"make_ml": NAN}),
    "'soon' is not a finish": ("batch", ("harbour-light",), {"serves": 2, "on_ice": "soon"}),
    "forecast=0": ("menu", (0,), {}),
    "margin=78": ("menu", (60,), {"margin": 78}),
    "out_of='gin'": ("rebalance", (), {"out_of": "gin"}),
    "file={}": ("sold", ({},), {}),
    "within_days=-1": ("stock_past", (-1,), {}),
}  # fmt: skip


@pytest.mark.parametrize("said", REFUSED)
def test_what_a_program_asks_with_is_checked_before_anything_is_computed(said: str) -> None:
    name, drinks, words = REFUSED[said]
    with pytest.raises(solver.BadInput) as refused:
        getattr(solver, name)(solver.open_bar(DEMO), *drinks, **words)
    assert said in str(refused.value)


def test_what_is_no_bar_is_refused_and_a_call_that_python_refuses_stays_a_type_error() -> None:
    with pytest.raises(solver.BadInput, match="bar='demo'"):
        solver.design("demo", "sour")  # type: ignore[arg-type]
    with pytest.raises(solver.BadInputs, match="serves=0") as refused:
        solver.design(solver.open_bar(DEMO), "sour", serves=0, seconds=0)
    assert "seconds=0" in str(refused.value)
    with pytest.raises(TypeError, match="profile"):
        solver.design(solver.open_bar(DEMO))  # type: ignore[call-arg]


def test_a_program_plans_the_nights_of_a_file(tmp_path: Path) -> None:
    file = tmp_path / "one-night.toml"
    file.write_text(
        '[[nights]]\ndate = 2026-05-09\ndrinks = 10\n[shares]\nharbour-light = "the rest"\n',
        encoding="utf-8",
    )
    found = solver.plan(solver.open_bar(DEMO), str(file))
    assert found.status == "planned"
    [night] = found.nights
    assert [(drink.spec, drink.serves) for drink in night.drinks] == [("Harbour Light", 10)]
