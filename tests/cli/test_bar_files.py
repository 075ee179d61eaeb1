"""The files of a bar as people leave them: kept in form, never half read, never waited for."""

from __future__ import annotations

import codecs
import os
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from solver.cli.main import main
from solver.pantry.load_bar import load_bar
from solver.tasks.prep import find_recipe, prepare
from tests.prep.bars import TODAY, bar_with, recipe

DEMO = Path(__file__).parents[2] / "demo"
SAVE = ("design", "highball", "--with", "gin", "--bottles", "<=2", "--save", "Slow Tide")
APPLY = ("rebalance", "--set", "lemon-juice.acid=4 g/100ml", "--apply")
STOCK = ("prep", "rhubarb-syrup", "--stock", "--made", "2026-05-08")


@pytest.fixture
def bar(tmp_path: Path) -> Path:
    folder = tmp_path / "bar"
    shutil.copytree(DEMO, folder)
    return folder


def run(bar: Path, *line: str) -> Result:
    return CliRunner().invoke(main, [*line, "--bar", str(bar)])


def content(bar: Path) -> dict[str, bytes]:
    return {str(p.relative_to(bar)): p.read_bytes() for p in bar.rglob("*") if p.is_file()}


def edit_before(target: str, path: Path, new: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody writes `path` while the command runs: just before it calls `target`."""
    from importlib import import_module

    module, _, name = target.rpartition(".")
    real: Callable[..., object] = getattr(import_module(module), name)

    def edited(*args: object, **kwargs: object) -> object:
        path.write_bytes(new)
        return real(*args, **kwargs)

    monkeypatch.setattr(target, edited)


EDITED = [
    (SAVE, "solver.tasks.save.spec_of_answer", "specs/slow-tide.toml"),
    ((*SAVE[:-1], "Dry Dock", "--replace"), "solver.tasks.save.spec_of_answer",
     "specs/dry-dock.toml"),
    (("assess", "harbour-light", "--approve"), "solver.drinks.assess.assess",
     "specs/harbour-light.toml"),
    (("swap", "rope-store", "bourbon", "rye-whiskey", "--save", "Slow Tide"),
     "solver.tasks.respec.swap.swap", "specs/slow-tide.toml"),
    (APPLY, "solver.tasks.respec.book.apply", "specs/dry-dock.toml"),
    (STOCK, "solver.tasks.prep.prepare", "shelf.csv"),
    (STOCK, "solver.tasks.prep.prepare", "house/rhubarb-syrup.toml"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "target", "name"), EDITED)
def test_what_somebody_writes_while_a_command_runs_is_left_as_it_is(
    line: tuple[str, ...], target: str, name: str, bar: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = bar / name
    old = path.read_bytes() if path.exists() else b""
    new = old + b"\n# edited meanwhile\n" if name != "shelf.csv" else old + b"mezcal,1 l\n"
    before = content(bar)
    edit_before(target, path, new, monkeypatch)
    result = run(bar, *line)
    assert result.exit_code == 2, result.output
    assert "while the command ran" in result.stderr
    assert "Nothing was written." in result.stderr
    assert content(bar) == {**before, name: new}


@pytest.mark.parametrize(
    ("line", "names", "mark"),
    [
        (("assess", "harbour-light", "--approve"), ["specs/harbour-light.toml"], b""),
        (APPLY, ["specs/dry-dock.toml"], codecs.BOM_UTF8),
        (STOCK, ["house/rhubarb-syrup.toml", "shelf.csv"], b""),
        (STOCK, ["house/rhubarb-syrup.toml", "shelf.csv"], codecs.BOM_UTF8),
    ],
)
def test_line_ends_and_a_byte_order_mark_are_kept(
    line: tuple[str, ...], names: list[str], mark: bytes, bar: Path
) -> None:
    for name in names:
        path = bar / name
        path.write_bytes(mark + path.read_bytes().replace(b"\n", b"\r\n"))
    before = content(bar)
    assert run(bar, *line).exit_code in {0, 1}
    for name in names:
        raw = (bar / name).read_bytes()
        assert raw != before[name]
        assert raw.startswith(mark + before[name].removeprefix(mark)[:3])
        assert raw.count(b"\n") == raw.count(b"\r\n") > 5


def test_a_shelf_of_three_columns_gets_what_a_batch_is_stocked_with(tmp_path: Path) -> None:
    bar_with(tmp_path, recipe('white-sugar = "1 kg"\nwater = "1 kg"'))
    shelf = tmp_path / "shelf.csv"
    shelf.write_text("ingredient,bottle,price\ngin,700 ml,20\nwhite-sugar,1 kg,2\n", "utf-8")
    result = run(tmp_path, "prep", "syrup", "--stock", "--made", "2026-05-04")
    assert result.exit_code == 0, result.output
    assert "new columns of the shelf: on_hand, opened, note" in result.stderr
    lines = shelf.read_text(encoding="utf-8").splitlines()
    assert lines[1:3] == ["gin,700 ml,20", "white-sugar,1 kg,2"]
    row = load_bar(tmp_path).stocked("syrup")
    assert row is not None
    assert row.on_hand == pytest.approx(1627, abs=1)
    assert row.opened is not None
    assert row.opened.isoformat() == "2026-05-04"
    assert "use by 2026-" in row.note


def test_a_mistake_in_the_shelf_does_not_stop_what_is_needed_to_mend_it(bar: Path) -> None:
    shelf = bar / "shelf.csv"
    wrong = "no such thing,700 ml\nnor this,1 l\n"
    shelf.write_text(shelf.read_text(encoding="utf-8") + wrong, "utf-8")
    assert run(bar, "shelf").exit_code == 2
    listed = run(bar, "ingredients")
    assert listed.exit_code == 0
    assert "rhubarb-syrup" in listed.stdout
    assert "the shelf is left out: 'no such thing' is not an ingredient" in listed.stderr
    assert listed.stderr.count("\n") == 2
    for line in (("profiles",), ("profiles", "bollard-sour")):
        result = run(bar, *line)
        assert (result.exit_code, result.stderr) == (0, "")


def test_a_mistake_elsewhere_stops_them_with_its_own_line(bar: Path) -> None:
    (bar / "bar.toml").write_text('name = "x"\nounces = 3\n', encoding="utf-8")
    for name in ("ingredients", "profiles"):
        result = run(bar, name)
        assert result.exit_code == 2
        assert "'ounces' is not a key known here" in result.stderr
        assert result.stderr.count("\n") == 1


@pytest.mark.parametrize("where", [".", "within"])
def test_a_shelf_without_a_bar_is_said(
    where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "shelf.csv").write_text("ingredient\ngin\n", encoding="utf-8")
    (tmp_path / "within").mkdir()
    monkeypatch.chdir(tmp_path / where)
    result = CliRunner().invoke(main, ["design", "sour"])
    assert result.exit_code == 2
    assert "there is a shelf but no bar" in result.stderr
    assert "bar.toml" in result.stderr


def as_fifo(path: Path) -> None:
    os.mkfifo(path)


def as_device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def as_loop(path: Path) -> None:
    path.symlink_to(path.name)


NO_FILES: dict[str, Callable[[Path], None]] = {
    "pipe": as_fifo,
    "device": as_device,
    "folder": Path.mkdir,
    "nowhere": lambda path: path.symlink_to("nowhere"),
    "loop": as_loop,
}
USED_BY = {
    "bar.toml": ("profiles",),
    "shelf.csv": ("shelf",),
    "house/rhubarb-syrup.toml": ("shelf",),
    "specs/harbour-light.toml": ("assess", "harbour-light"),
    "profiles/bollard-sour.toml": ("design", "bollard-sour"),
    "guests.toml": ("check", "sour", "--requests"),
}


@pytest.mark.parametrize("name", USED_BY)
@pytest.mark.parametrize("kind", NO_FILES)
def test_what_is_no_file_is_said_and_not_waited_for(kind: str, name: str, bar: Path) -> None:
    path = bar / name
    path.unlink(missing_ok=True)
    NO_FILES[kind](path)
    more = (str(path),) if name == "guests.toml" else ()
    result = run(bar, *USED_BY[name], *more)
    assert result.exit_code == 2
    assert result.stderr.startswith("equipour: ")
    assert result.stderr.count("\n") == 1
    assert name in result.stderr


@pytest.mark.parametrize("kind", NO_FILES)
def test_a_picture_is_not_drawn_over_what_is_no_file(kind: str, bar: Path) -> None:
    path = bar / "curve.svg"
    NO_FILES[kind](path)
    line = ("tradeoff", "highball", "--with", "gin", "--points", "2", "--picture", str(path))
    for more in ((), ("--replace",)):
        result = run(bar, *line, *more)
        assert result.exit_code == 2, result.output
        assert result.stderr.count("\n") == 1


@pytest.mark.skipif(os.name == "nt" or os.geteuid() != 0, reason="needs to become somebody else")
@pytest.mark.parametrize("name", ["", "house", "specs", "profiles"])
def test_a_folder_that_may_not_be_looked_into_is_said(name: str, bar: Path) -> None:
    for above in (bar, *bar.parents[:3]):
        above.chmod(0o755)
    (bar / name).chmod(0)
    line = ("assess", "harbour-light", "--profile", "bollard-sour")
    os.seteuid(65534)
    try:
        result = run(bar, *line)
    finally:
        os.seteuid(0)
    assert result.exit_code == 2
    assert "permission denied" in result.stderr
    assert result.stderr.count("\n") == 1


LONG = "x" * 131_073
SHELVES = {
    "cell": f"ingredient,note\ngin,{LONG}\n",
    "name": f"ingredient\n{LONG[:131_000]}\n",
    "column": f"ingredient,{LONG}\ngin\n",
    "first cell": f"{LONG},ingredient\n",
    "open quote": f'ingredient,note\ngin,"{LONG}',
}


@pytest.mark.parametrize("which", SHELVES)
def test_a_cell_of_a_hundred_thousand_letters_is_said_shortly(which: str, bar: Path) -> None:
    (bar / "shelf.csv").write_text(SHELVES[which], encoding="utf-8")
    result = run(bar, "shelf")
    assert result.exit_code == 2
    assert len(result.stderr) < 600
    assert result.stderr.count("\n") == 1


DEEP = {
    "dotted": ".".join(["a"] * 20_000) + " = 1\n",
    "arrays": "a = " + "[" * 900 + "]" * 900 + "\n",
    "tables": "a = " + "{a = " * 400 + "1" + "}" * 400 + "\n",
    "digits": "a = " + "9" * 100_000 + "\n",
    "keys": "".join(f"k{n} = {n}\n" for n in range(3000)),
}


@pytest.mark.parametrize("how", DEEP)
@pytest.mark.parametrize("name", [name for name in USED_BY if name.endswith(".toml")])
def test_a_file_that_nests_for_ever_is_said_at_once(how: str, name: str, bar: Path) -> None:
    path = bar / name
    old = path.read_text(encoding="utf-8") if path.exists() else ""
    path.write_text(DEEP[how] + old, encoding="utf-8")
    more = (str(path),) if name == "guests.toml" else ()
    result = run(bar, *USED_BY[name], *more)
    assert result.exit_code == 2
    assert len(result.stderr) < 4000


def stated(inputs: str, key: str, number: int) -> str:
    """A house recipe of which the file also states what is in the bottle."""
    figures = "".join(
        f'{name} = {{ {unit} = {value}, basis = "estimate", source = "a guess" }}\n'
        for name, unit, value in [
            ("abv", "pct", 0),
            ("sugar", "g_100ml", 60),
            ("acid", "g_100ml", 0),
            ("life", "days", 9),
        ]
    )
    more = f'{figures}allergens = []\nanimal = []\nallergens_source = "a guess"\n'
    return recipe(inputs, key=key, more=more if number % 2 else "")


FIRST = 'white-sugar = "1 kg"\nwater = "1 kg"'


@pytest.mark.parametrize("form", ["in no bottle", "every other one in a bottle"])
def test_two_hundred_recipes_that_go_into_each_other_are_followed(
    form: str, tmp_path: Path
) -> None:
    def below(number: int) -> str:
        lines = f's{number - 1} = "1 kg"\nwhite-sugar = "500 g"\nwater = "500 g"'
        return lines if number else FIRST

    write = stated if form != "in no bottle" else lambda i, key, _: recipe(i, key=key)
    chain = [write(below(n), f"s{n}", n) for n in range(200)]
    bar = bar_with(tmp_path, "\n".join(reversed(chain)))
    prep = prepare(find_recipe("s199", bar), bar, TODAY)
    assert prep.figures.sugar_g_100ml.value > 50


@pytest.mark.parametrize("form", ["in no bottle", "every other one in a bottle"])
def test_recipes_that_double_at_every_level_are_gone_through_once_each(
    form: str, tmp_path: Path
) -> None:
    """Forty levels, each with the one below it twice: 2^40 ways down."""

    def below(number: int) -> str:
        return f's{number - 1} = "1 kg"\n"the s{number - 1}" = "500 g"' if number else FIRST

    write = stated if form != "in no bottle" else lambda i, key, _: recipe(i, key=key)
    bar = bar_with(tmp_path, "\n".join(write(below(n), f"s{n}", n) for n in range(40)))
    prep = prepare(find_recipe("s39", bar), bar, TODAY)
    assert [put.key for put in prep.puts] == ["s38", "s38"]


def test_a_ring_of_three_hundred_recipes_is_one_short_sentence(bar: Path) -> None:
    ring = [recipe(f's{(n + 1) % 300} = "1 kg"', key=f"s{n}") for n in range(300)]
    (bar / "house" / "ring.toml").write_text("\n".join(ring), encoding="utf-8")
    result = run(bar, "shelf")
    assert result.exit_code == 2
    assert "s0 into s1 into s2" in result.stderr
    assert len(result.stderr) < 400


EVIL = "evil\x1b[31m\nequipour: saved\u202e\udcff"


def test_no_path_reaches_the_terminal_as_it_is(tmp_path: Path) -> None:
    bar = tmp_path / EVIL
    shutil.copytree(DEMO, bar)
    spec = bar / "specs" / f"{EVIL}.toml"
    text = (bar / "specs" / "harbour-light.toml").read_text(encoding="utf-8")
    spec.write_text(text.replace("Harbour Light", "Other"), encoding="utf-8")
    lines: list[tuple[str, ...]] = [
        ("assess", str(spec), "--approve"), SAVE, SAVE, STOCK, APPLY, ("shelf",),
        ("assess", f"{EVIL}.toml"), ("design", EVIL), ("check", "sour", "--requests", EVIL),
        ("design", "sour", "--with", EVIL), (f"--{EVIL}",), (EVIL,),
        ("tradeoff", "highball", "--points", "2", "--picture", str(bar / f"{EVIL}.svg")),
    ]  # fmt: skip
    for line in lines:
        result = run(bar, *line)
        assert all(c.isprintable() or c == "\n" for c in result.output), line
        assert not any(said.startswith("equipour: saved\\") for said in result.output.split("\n"))
    spec.write_text("x", encoding="utf-8")
    result = run(bar, "rebalance")
    assert result.exit_code == 2
    assert "\\x1b[31m\\nequipour: saved\\u202e\\udcff" in result.stderr


def test_a_name_that_is_broken_in_its_file_is_one_name_on_one_line(bar: Path) -> None:
    spec = bar / "specs" / "harbour-light.toml"
    text = spec.read_text(encoding="utf-8")
    spec.write_text(
        text.replace('"Harbour Light"', '"""Harbour\nAllergens: none\tat all"""'), encoding="utf-8"
    )
    result = run(bar, "assess", "harbour-light")
    assert result.exit_code == 0, result.output
    assert result.stdout.startswith("Harbour Allergens: none at all: shake")
    for line in ("notes = '''\nfirst\n\n  second'''", "notes = 'one'"):
        plain = "\n".join(old for old in text.split("\n") if not old.startswith("notes"))
        spec.write_text(f"{line}\n{plain}", encoding="utf-8")
        notes = tomllib.loads(spec.read_text(encoding="utf-8"))["notes"]
        assert run(bar, "assess", "harbour-light", "--approve").exit_code == 0
        assert tomllib.loads(spec.read_text(encoding="utf-8"))["notes"] == notes


@pytest.mark.parametrize("sign", ["\x1b[31m", "\u202e", "\x9b", "\u200f", "\ue000"])
def test_a_name_that_cannot_be_printed_is_refused_with_its_line(sign: str, bar: Path) -> None:
    spec = bar / "specs" / "harbour-light.toml"
    text = spec.read_text(encoding="utf-8")
    coded = f"\\u{ord(sign[0]):04x}{sign[1:]}"
    spec.write_text(text.replace("Harbour Light", f"Harbour {coded}"), encoding="utf-8")
    result = run(bar, "assess", "harbour-light")
    assert result.exit_code == 2
    assert "holds a character that cannot be printed" in result.stderr
    assert sign not in result.output
