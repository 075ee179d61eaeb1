"""Writing a spec back: what it says, its comments, the order of its parts."""

import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import BadInput, BadInputs
from solver.files.atomic import FilePlace
from solver.files.read import ABSENT
from solver.pantry.spec import Approved, Spec, SpecPour, Tasting, read_spec
from solver.pantry.spec_file import write_spec

APPROVED = Approved(
    date=datetime.date(2026, 4, 2),
    abv_pct=16.59,
    sugar_g_100ml=8.67,
    acid_g_100ml=0.957,
    volume_ml=162.4,
    ethanol_g=21.31,
    cost=3.355,
    currency="EUR",
)
TEXT = """\
# About the drink.
name = "Slow Tide"   # for now
technique = "shake"

# What it stands on.
[[pours]]
ingredient = "gin"
amount = "2 oz"      # the dry one

[[pours]]
ingredient = "lemon-juice"
amount = "3/4 oz"
"""
AFTER = (
    TEXT
    + """
# Tasted by all of us.
[approved]
date = 2026-03-01
abv_pct = 18
sugar_g_100ml = 0    # not sweetened
acid_g_100ml = 1
volume_ml = 130
ethanol_g = 20
"""
)
COMMENTS = [line.partition("#")[2] for line in AFTER.splitlines() if "#" in line]


def in_file(folder: Path, text: str) -> Path:
    path = folder / "slow-tide.toml"
    path.write_text(text, encoding="utf-8")
    return path


def approve(path: Path) -> str:
    spec = read_spec(path)
    assert spec.place is not None
    write_spec(spec.model_copy(update={"approved": APPROVED}), spec.place, None)
    return path.read_text(encoding="utf-8")


def test_approval_is_added_below_and_touches_nothing_above(tmp_path: Path) -> None:
    text = approve(in_file(tmp_path, TEXT))
    assert text.startswith(TEXT)
    assert read_spec(tmp_path / "slow-tide.toml").approved == APPROVED


def test_approving_again_keeps_every_comment_and_adds_no_second_table(tmp_path: Path) -> None:
    text = approve(in_file(tmp_path, AFTER))
    assert [comment for comment in COMMENTS if comment not in text] == []
    assert text.count("[approved]") == 1
    assert approve(tmp_path / "slow-tide.toml") == text


def test_a_table_before_the_pours_stays_there(tmp_path: Path) -> None:
    head, _, pours = TEXT.partition("\n\n")
    table = AFTER.removeprefix(TEXT)
    text = approve(in_file(tmp_path, f"{head}\n{table}\n{pours}"))
    assert text.index("[approved]") < text.index("[[pours]]")
    assert [comment for comment in COMMENTS if comment not in text] == []


def test_a_table_written_on_one_line_is_written_anew(tmp_path: Path) -> None:
    inline = (
        "approved = { date = 2026-03-01, abv_pct = 18, sugar_g_100ml = 0, "
        "acid_g_100ml = 1, volume_ml = 130, ethanol_g = 20 }\n"
    )
    text = approve(in_file(tmp_path, TEXT.replace("\n\n", f"\n{inline}\n", 1)))
    assert text.count("approved") == 1
    assert read_spec(tmp_path / "slow-tide.toml").approved == APPROVED


def test_a_pour_that_leaves_does_not_take_the_approval_along(tmp_path: Path) -> None:
    path = in_file(tmp_path, AFTER)
    spec = read_spec(path)
    assert spec.place is not None
    write_spec(spec.model_copy(update={"pours": spec.pours[:1]}), spec.place, None)
    assert read_spec(path).approved == spec.approved
    assert "Tasted by all of us" in path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('date = "yesterday"', "must be a date"),
        ("abv_pct = 170", "at most 100"),
        ("volume = 130", "not a key known here"),
    ],
)
def test_what_is_wrong_with_an_approval_is_said_with_its_line(
    line: str, said: str, tmp_path: Path
) -> None:
    key = line.partition(" ")[0]
    lines = AFTER.splitlines()
    at = next((n for n, old in enumerate(lines) if old.startswith(f"{key} =")), len(lines))
    path = in_file(tmp_path, "\n".join([*lines[:at], line, *lines[at + 1 :]]))
    with pytest.raises((BadInput, BadInputs)) as caught:
        read_spec(path)
    assert said in str(caught.value)
    assert f"line {at + 1}" in str(caught.value)


def one_line(text: str) -> str:
    """What of a text can stand in a cell: printable, its words apart by one space."""
    return " ".join("".join(filter(str.isprintable, text)).split())


words = st.text(min_size=1, max_size=20).map(one_line).filter(bool)


@given(name=words, pours=st.lists(st.tuples(words, words), min_size=1, max_size=4))
def test_what_is_written_is_what_is_read(
    name: str, pours: list[tuple[str, str]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("specs") / "any.toml"
    lines = tuple(SpecPour(ingredient=i, amount=a) for i, a in pours)
    spec = Spec(name=name, pours=lines, approved=APPROVED, origin=path)
    write_spec(spec, FilePlace(path), None)
    read = read_spec(path)
    assert read.model_copy(update={"version": ABSENT}) == spec
    assert read.place is not None
    write_spec(spec, read.place, None)
    assert read_spec(path) == read


NOTE = Tasting(date=datetime.date(2026, 5, 1), score=2, words='"thin"', poured=("gin",))
FIRST = """
# Late, after service.
[[tasted]]
score = 4            # mine
date = 2026-04-01
"""


def test_a_tasting_is_added_below_what_is_there_and_taken_out_again(tmp_path: Path) -> None:
    path = tmp_path / "slow-tide.toml"
    before = AFTER + FIRST
    path.write_text(before, encoding="utf-8")
    spec = read_spec(path)
    assert spec.place is not None
    added = spec.model_copy(update={"tasted": (*spec.tasted, NOTE)})
    write_spec(added, spec.place, None)
    assert path.read_text(encoding="utf-8").startswith(before)
    again = read_spec(path)
    assert [note.score for note in again.tasted] == [4, 2]
    assert again.place is not None
    write_spec(again.model_copy(update={"tasted": spec.tasted}), again.place, None)
    assert path.read_text(encoding="utf-8") == before


def test_tables_stay_in_the_order_that_the_file_has(tmp_path: Path) -> None:
    path = tmp_path / "slow-tide.toml"
    head, pours = TEXT.split("# What it stands on.")
    text = f"{head.rstrip()}\n{FIRST}\n# What it stands on.{pours}"
    path.write_text(text, encoding="utf-8")
    spec = read_spec(path)
    assert spec.place is not None
    write_spec(spec.model_copy(update={"approved": APPROVED}), spec.place, None)
    assert path.read_text(encoding="utf-8").startswith(text)
