"""Whatever is typed into any option: an answer or a sentence, and nothing of the bar is changed."""

from __future__ import annotations

import shutil
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from solver.cli.main import main
from tests.examples import examples
from tests.open_bars import OPEN

DEMO = Path(__file__).parents[2] / "demo"
WRITTEN = (
    "17%", "15..18%", "<=2.50", ">=0", "7 g/100ml", "150 ml", "1/0 oz", "50 Brix", "3", "0", "-1",
    "nan", "inf", "1e308", "1e-9%", "9" * 30, "..", "<", "%", "oz", "3..2 oz", "1,000 ml",
    "gin", "rhubarb-syrup=15..22 ml", "rye-whiskey=", "=2 oz", "lime-juice=1 g", "egg", "spirit",
    "alcohol", "smoke", "smoke <=0.5", "no nut or honey", "bright", "fog bank",
    "coupe", "shake", "none", "five-ml", "closest", "sour", "bollard-sour",
    "harbour-light", "2 oz gin", "3/4 oz lemon juice", "0 oz gin", "1 piece gin", "2 oz",
    "½ oz gin", "almond-spice-syrup", "1.5 L", "2026-05-06", "9999-12-31",
    "a.toml", "/", ".", "..", "../demo", "specs", "\udcff", "\n", "\x1b[31m", "=", "'", '"',
    "", " ", "-", "--", "--json", "a" * 300, "…", "2 oz \udcff",
)  # fmt: skip
# The system ends an argument at a null character, and what it cannot decode becomes surrogates of
# its own, like \udcff: no others are in what is typed.
LETTERS = st.characters(exclude_characters="\x00", exclude_categories=["Cs"])
TEXT = st.sampled_from(WRITTEN) | st.text(LETTERS, max_size=12)
TYPED = TEXT | st.tuples(TEXT, TEXT).map("".join)
KNOWN = {
    "profile": ("sour", "highball", "stirred", "hot-coffee", "harbour-light", "last ferry"),
    "drink": ("harbour-light", "last ferry", "2 oz gin", "3/4 oz lemon juice", "1/2 oz rich syrup"),
    "name": ("sour", "gin"),
    "recipe": ("rhubarb-syrup", "almond-spice-syrup"),
    "spec": ("harbour-light", "rope store", "weighbridge"),
    "specs": ("harbour-light", "rope store", "bollard-sour"),
    "amount": ("2 bottles", "300 ml", "0", "3 pieces"),
    "entry": ("1", "2"),
    "plan": ("weekend", "harbour-light=40%", "rope-store=20..40%", "dry-dock"),
    "out": ("rye-whiskey", "bourbon", "amaro", "orange bitters"),
    "words": ("too smoky", "once more"),
    "instead": ("gin", "red-bitter", "rye-whiskey"),
    "ingredient": ("gin", "pisco", "calvados", "saline", "whole-limes"),
    "file": ("list.csv", "shelf.csv", str(DEMO / "sales.csv")),
    "lines": ("1 L water", "500 g sugar", "3 limes", "simmer 10 min", "strain cloth"),
    "topic": ("design", "shelf", "add", "bar.toml", "words.toml", "files", "words"),
}
"""What an argument may rightly be: mostly one of these, so that the options are looked at."""
WRITING = {"--save", "--approve", "--stock", "--score", "--take-back"}
WRITABLE = {"specs", "house", "shelf.csv"}


QUESTIONS = (
    "shelf", "specs --by cost", "profiles sour", "help", "help design", "quit", "# nothing", "ask",
    "design sour --time-limit 0.2", "assess harbour-light", 'assess "2 oz gin', "equipour shelf",
)  # fmt: skip


@pytest.fixture(scope="module")
def bar(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("any") / "demo"
    shutil.copytree(DEMO, folder)
    return folder


def content(bar: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in bar.parent.rglob("*") if path.is_file()}


@st.composite
def typed(draw: st.DrawFn, command: click.Command) -> list[str]:
    """A command line: one to three of its options, and its arguments, with any text in them."""
    line: list[str] = []
    options = [option for option in command.params if isinstance(option, click.Option)]
    for option in draw(st.lists(st.sampled_from(options), max_size=3)):
        if option.name == "folder":
            continue
        line.append(option.opts[0])
        if not option.is_flag:
            line.append(draw(TYPED))
    for argument in command.params:
        if isinstance(argument, click.Argument):
            word = st.one_of(*3 * [st.sampled_from(KNOWN[argument.name or ""])], TYPED)
            most = 3 if argument.nargs == -1 else 1
            line += draw(st.lists(word, min_size=1 if argument.required else 0, max_size=most))
    return line


def check(line: list[str], bar: Path) -> Result:
    """Run a command line on the bar; whatever it was, it ends well."""
    before = content(bar)
    result = CliRunner().invoke(main, line, obj=OPEN)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    assert result.exit_code in {0, 1, 2, 3}
    assert "Traceback" not in result.output
    after = content(bar)
    # Nothing is written that is not proven, but with a word.
    ended = {0, 3} if "--unproven" in line else {0}
    written = result.exit_code in ended and (WRITING | {"stock"}) & set(line)
    rows = {"add", "set", "remove", "import", "recipe"} & set(line)
    written = written or (rows if result.exit_code == 0 else set())
    # What can be saved of a spec book is written, though something in it cannot be.
    if written or (result.exit_code in {1, *ended} and "--apply" in line):
        restore(before, after)
    else:
        assert after == before
    if result.exit_code == 2:
        check_sentence(result)
    return result


def restore(before: dict[Path, bytes], after: dict[Path, bytes]) -> None:
    """Put back what was there; only a spec, the shelf and its log may have been written."""
    changed = [path for path, raw in after.items() if before.get(path) != raw]
    assert before.keys() <= after.keys()
    assert all(
        path.parent.name in {"specs", "house"}
        or path.name in {"shelf.csv", "stock-log.csv"}
        or path.name.startswith("shelf-before-")  # what `shelf import --only` keeps
        for path in changed
    )
    for path in changed:
        if path in before:
            path.write_bytes(before[path])
        else:
            path.unlink()


def check_sentence(result: Result) -> None:
    assert result.stdout == ""
    said = result.stderr.removesuffix("\n")
    assert said.startswith("equipour: "), said
    for line in said.split("\n"):  # one for each mistake
        assert line.isprintable(), repr(said)
        assert line.endswith((".", "?")), said
    assert len(said) < 1200


fuzzed = settings(
    max_examples=examples(0.4),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


@fuzzed
@given(line=typed(main.commands["design"]))
@example(line=["sour", "--time-limit", "nan"])
@example(line=["sour", "--time-limit", "inf"])
@example(line=["sour", "--serves", "9" * 30])
@example(line=["sour", "--save", "a" * 300])
@example(line=["sour", "--save", "\udcff"])
def test_design(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "design", "--time-limit", "0.5", *line], bar)


@settings(fuzzed, max_examples=examples(0.3))
@given(line=typed(main.commands["check"]))
@example(line=["--requests", "."])
@example(line=["--requests", "a.toml"])
@example(line=["sour", "--drier", "nan"])
@example(line=["sour", "--drier", "100", "--sweeter", "100"])
@example(line=["sour", "--standard-drinks", "1e308"])
def test_check(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "check", "--time-limit", "0.5", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["tradeoff"]))
@example(line=["sour", "--between", "cost,\udcff"])
@example(line=["sour", "--picture", "\udcff.svg"])
@example(line=["sour", "--picture", "/.svg/.svg"])
@example(line=["sour", "--picture", "a" * 300 + ".svg"])
def test_tradeoff(
    bar: Path, line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # a picture may well be drawn
    check(["--bar", str(bar), "tradeoff", "--time-limit", "0.5", "--points", "4", *line], bar)


@fuzzed
@given(line=typed(main.commands["assess"]))
def test_assess(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "assess", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["vary"]))
@example(line=["harbour-light", "--melt", "0..1e308"])
@example(line=["harbour-light", "--jigger", "1e308 ml"])
@example(line=["2 oz gin", "--figure", "gin strength=99..100 %"])
def test_vary(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "vary", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["swap"]))
@example(line=["rope-store", "bourbon", "--split", "+"])
@example(line=["rope-store", "bourbon", "--split", "gin + \udcff"])
@example(line=["rope-store", "bourbon", "--split", "bourbon + gin", "--cost", "12% below"])
@example(line=["rope-store", "bourbon", "--split", "bourbon + gin", "--cost", "<=\udcff"])
def test_swap(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "swap", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["scale"]))
@example(line=["rope-store", "--glass", "coupe=1e-308 ml"])
@example(line=["rope-store", "--glass", "rocks=1e308 ml"])
@example(line=["rope-store", "--volume", "1e-9 ml"])
@example(line=["2 oz gin", "--volume", "1e308 ml"])
@example(line=["2 oz gin", "--glass", "\udcff=150 ml"])
def test_scale(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "scale", *line], bar)


@settings(fuzzed, max_examples=examples(0.2))
@given(line=typed(main.commands["rebalance"]))
@example(line=["--set", "\udcff.abv=45%"])
@example(line=["--glass", "coupe=1e308 ml"])
@example(line=["--set", "rye-whiskey.density=0 g/100ml", "--apply"])
def test_rebalance(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "rebalance", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["tasted"]))
@example(line=["harbour-light", "--score", "4", "\udcff"])
@example(line=["harbour-light", "--score", "4", "a" * 5000])
@example(line=["harbour-light", "--score", "4", 'so "smoky" \\ that'])
@example(line=["--score", "4"])
@example(line=["--take-back"])
def test_tasted(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "tasted", *line], bar)


@pytest.mark.parametrize("name", ["shelf", "ingredients", "profiles", "prep", "specs"])
@settings(fuzzed, max_examples=examples(0.25))
@given(data=st.data())
def test_looking(bar: Path, name: str, data: st.DataObject) -> None:
    check(["--bar", str(bar), name, *data.draw(typed(main.commands[name]))], bar)


@settings(fuzzed, max_examples=examples(0.3))
@given(line=typed(main.commands["recipe"]))
@example(line=["rhubarb syrup", "--weight", "4 kg", "--brix", "50"])
@example(line=["rhubarb syrup", "500 g sugar", "1 L water", "--replace"])
@example(line=["a" * 300, "500 g sugar", "1 L water"])
@example(line=["x", "1e308 g sugar", "1 L water"])
@example(line=["x", "1 g sugar \udcff", "\udcff"])
def test_recipe(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "recipe", *line], bar)


@settings(fuzzed, max_examples=examples(0.3))
@given(data=st.data())
def test_stock(bar: Path, data: st.DataObject) -> None:
    group = main.commands["stock"]
    assert isinstance(group, click.Group)
    name = data.draw(st.sampled_from(sorted(group.commands)))
    check(["--bar", str(bar), "stock", name, *data.draw(typed(group.commands[name]))], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["price"]))
@example(line=["harbour-light", "--under", "1e-300"])
@example(line=["harbour-light", "--at", "1e308"])
@example(line=["harbour-light", "--margin", "99.9999999%"])
def test_price(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "price", "--time-limit", "0.5", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["card"]))
@example(line=["harbour-light", "--output", "\udcff.html"])
@example(line=["harbour-light", "--output", "a" * 300 + ".pdf"])
@example(line=["harbour-light", "--output", "/.svg/.svg"])
@example(line=["--book", "--as", "svg"])
@example(line=["harbour-light", "--as", "pdf"])
@example(line=["\udcff"])
def test_card(bar: Path, line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a card may well be written
    check(["--bar", str(bar), "card", *line], bar)


@fuzzed
@given(line=typed(main.commands["batch"]))
@example(line=["weighbridge", "--serves", "9" * 30])
@example(line=["weighbridge", "--make", "1e308 ml"])
@example(line=["weighbridge", "--serves", "3", "--at", "-1e308 C"])
@example(line=["weighbridge", "--serves", "3", "--step", "1/1000000 ml"])
@example(line=["weighbridge", "--serves", "3", "--made", "9999-12-31", "--stock"])
@example(line=["weighbridge", "--serves", "3", "--label", "-o", "\udcff"])
def test_batch(bar: Path, line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # labels may well be written
    check(["--bar", str(bar), "batch", *line], bar)


SHELF = main.commands["shelf"]
assert isinstance(SHELF, click.Group)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["plan"]))
@example(line=["harbour-light=40%", "--drinks", "140"])
@example(line=["weekend", "--output", "\udcff.html"])
@example(line=["--drinks", "9" * 30])
@example(line=["--drinks", "3", "--use-up", "\udcff=2026-05-08"])
@example(line=["--drinks", "3", "--on", "9999-12-31"])
@example(line=["harbour-light=1e308%", "--drinks", "3"])
@example(line=["\udcff.toml"])
def test_plan(bar: Path, line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a page may well be written
    check(["--bar", str(bar), "plan", "--time-limit", "0.5", *line], bar)


@settings(fuzzed, max_examples=examples(0.15))
@given(line=typed(main.commands["menu"]))
@example(line=["harbour-light=40%", "--forecast", "14", "--book"])
@example(line=["--forecast", "9" * 30])
@example(line=["--forecast", "3", "--book", "--use-up", "\udcff=2026-05-08"])
@example(line=["--forecast", "3", "--until", "9999-12-31"])
@example(line=["--forecast", "3", "--book", "--share", "nan..1e308%"])
@example(line=["--forecast", "3", "--book", "--price", "1e308", "--margin", "100%"])
@example(line=["--forecast", "3", "--book", "--sober", "-1%"])
@example(line=["\udcff.toml"])
def test_menu(bar: Path, line: list[str]) -> None:
    check(["--bar", str(bar), "menu", "--time-limit", "0.5", *line], bar)


@pytest.mark.parametrize("name", sorted(SHELF.commands))
@settings(fuzzed, max_examples=examples(0.25))
@given(data=st.data())
def test_a_row_of_the_shelf(
    bar: Path, name: str, data: st.DataObject, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "list.csv").write_text("name,size\ncalvados,70cl\nsome gin,1l\n", "utf-8")
    assert isinstance(SHELF, click.Group)
    line = data.draw(typed(SHELF.commands[name]))
    check(["--bar", str(bar), "shelf", name, *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(data=st.data())
@example(data=None)
def test_init(
    bar: Path, data: st.DataObject | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # a bar may well be made there, and nowhere else
    shutil.rmtree("new", ignore_errors=True)
    command = main.commands["init"]
    options = click.Command("init", params=[p for p in command.params if p.name != "folder"])
    check(["init", "new", *(data.draw(typed(options)) if data else [])], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=typed(main.commands["help"]))
@example(line=["files", "--output", "\udcff.md"])
@example(line=["shelf", "add", "more"])
def test_help(bar: Path, line: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # a page may well be written
    check(["help", *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(
    folder=TYPED,
    after=st.booleans(),
    name=st.sampled_from(sorted(set(main.commands) - {"init", "help"})),
)
def test_any_folder(bar: Path, folder: str, after: bool, name: str) -> None:
    line = [name, "--bar", folder] if after else ["--bar", folder, name]
    check([*line, "sour"] if name != "shelf" else line, bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(line=st.lists(TYPED, max_size=3))
def test_no_command_at_all(bar: Path, line: list[str]) -> None:
    if line:  # nothing at all shows the help text, with status 2
        check([line[0], *line], bar)


@settings(fuzzed, max_examples=examples(0.25))
@given(lines=st.lists(TYPED | st.sampled_from(QUESTIONS), max_size=4))
def test_ask(bar: Path, lines: list[str]) -> None:
    """Whatever is asked, one line after another, ends as the worst of them does."""
    before = content(bar)
    typed = "\n".join(lines).encode("utf-8", "surrogateescape")
    result = CliRunner().invoke(main, ["--bar", str(bar), "ask"], input=typed)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exc_info
    assert result.exit_code in {0, 1, 2, 3}
    assert "Traceback" not in result.output
    assert content(bar) == before


def test_every_command_is_tried() -> None:
    tried = {
        "design",
        "check",
        "tradeoff",
        "assess",
        "vary",
        "swap",
        "rebalance",
        "shelf",
        "ingredients",
        "profiles",
        "prep",
        "recipe",
        "card",
        "plan",
        "menu",
        "specs",
        "ask",
        "batch",
        "scale",
        "tasted",
        "init",
        "help",
        "price",
        "stock",
    }
    assert set(main.commands) == tried


def test_nothing_typed_shows_the_help_text() -> None:
    result = CliRunner().invoke(main, [])
    assert any(line.startswith("Commands:") for line in result.output.splitlines())
