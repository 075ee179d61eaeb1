"""Where the keys of a TOML file stand, and its form when it is written back."""

from __future__ import annotations

import codecs
import tomllib
from pathlib import Path

import pytest
import tomlkit
from hypothesis import example, given
from hypothesis import strategies as st

from solver.files.positions import line_of, positions
from solver.files.toml import read_toml

ROOT = Path(__file__).parents[2]
TEXT = '''
nested = [
  [1, 2],
  [
    { x = 1 }, # ] }
    { y = ["]", """
[[not.a.table]]
z = 1
""", 4] },
  ],
]
after = true
"quoted.key".inner = 5
dotted.one.two = """
after = false
"""

[table]
key = 1

[[pours]]
a = 1
[pours.within]
b = 2
[[pours]]
a = 3
[[pours.deep]]
c = 1
[[pours.deep]]
c = 2
'''


@pytest.mark.parametrize(
    ("keys", "line"),
    [
        (["nested"], 2),
        (["nested", 0, 1], 3),
        (["nested", 1], 4),
        (["nested", 1, 0, "x"], 5),
        (["nested", 1, 1, "y", 2], 9),
        (["after"], 12),
        (["quoted.key", "inner"], 13),
        (["dotted", "one", "two"], 14),
        (["table", "key"], 19),
        (["pours", 0, "a"], 22),
        (["pours", 0, "within", "b"], 24),
        (["pours", 1], 25),
        (["pours", 1, "a"], 26),
        (["pours", 1, "deep", 0, "c"], 28),
        (["pours", 1, "deep", 1, "c"], 30),
        (["pours", 1, "not there"], 25),
        (["nowhere"], 1),
    ],
)
def test_a_value_is_found_on_its_line(keys: list[str | int], line: int) -> None:
    assert tomllib.loads(TEXT)
    assert line_of(TEXT, keys) == line


VALUES = st.recursive(
    st.integers(0, 9) | st.sampled_from(["a", "]", "# [", 'say "so"', "[[x]]", "two\nlines"]),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=3)
    ),
    max_leaves=8,
)


@given(data=st.dictionaries(st.sampled_from(["k", "a b", "x.y", "l"]), VALUES, max_size=4))
@example(data={"k": [{"a": [["]", "two\nlines"]]}]})
def test_every_value_of_any_file_is_found_where_it_is_written(data: dict[str, object]) -> None:
    """A number of its own marks each value; the line it is found on is the line that has it."""
    marks = iter(range(1000, 9999))

    def marked(value: object) -> object:
        if isinstance(value, dict):
            return {key: marked(inner) for key, inner in value.items()}
        if isinstance(value, list):
            return [marked(inner) for inner in value]
        return next(marks) if isinstance(value, int) else value

    def leaves(value: object, keys: tuple[str | int, ...] = ()) -> list[tuple[object, int]]:
        if isinstance(value, dict):
            return [leaf for k, v in value.items() for leaf in leaves(v, (*keys, k))]
        if isinstance(value, list):
            return [leaf for k, v in enumerate(value) for leaf in leaves(v, (*keys, k))]
        return [(keys, value)] if isinstance(value, int) else []

    numbered = marked(data)
    assert isinstance(numbered, dict)
    text = tomlkit.dumps(numbered).replace(", ", ",\n  ") if numbered else ""
    try:
        same = tomllib.loads(text) == numbered
    except tomllib.TOMLDecodeError:
        same = False  # a line break is not allowed everywhere
    if not same:
        text = tomlkit.dumps(numbered)
    for keys, value in leaves(numbered):
        assert str(value) in text.split("\n")[line_of(text, keys) - 1]  # type: ignore[arg-type]


@pytest.mark.parametrize("folder", ["ingredients", "profiles", "demo/house", "demo/specs"])
def test_every_header_of_our_own_files_is_found(folder: str) -> None:
    for path in (ROOT / folder).glob("*.toml"):
        text = path.read_text(encoding="utf-8")
        written = [n for n, line in enumerate(text.split("\n"), 1) if line.startswith("[")]
        assert [found.line for found in positions(text) if found.header] == written


@pytest.mark.parametrize("text", ["a = [" * 2000, "a.b" * 3000 + " = 1", "[[[[", 'a = "', "\0"])
def test_what_is_no_toml_has_the_positions_before_it(text: str) -> None:
    assert line_of(f"first = 1\n{text}", ["first"]) == 1


ENDS = st.lists(st.sampled_from(["\n", "\r\n"]), min_size=1, max_size=8)


@given(ends=ENDS, mark=st.sampled_from([b"", codecs.BOM_UTF8]), at=st.integers(0, 7))
def test_a_line_that_changes_leaves_every_other_line_as_it_was(
    ends: list[str], mark: bytes, at: int, tmp_path_factory: pytest.TempPathFactory
) -> None:
    lines = [f"k{n} = {n}" for n in range(len(ends))]
    at %= len(lines)
    raw = [mark, *(f"{line}{end}".encode() for line, end in zip(lines, ends, strict=True))]
    path = tmp_path_factory.mktemp("form") / "file.toml"
    path.write_bytes(b"".join(raw))
    file = read_toml(path)
    assert file.encoded(file.text) == b"".join(raw)
    new = file.encoded(file.text.replace(lines[at], "new = true"))
    assert new.startswith(mark)
    kept = new.removeprefix(mark).splitlines(keepends=True)
    assert kept[:at] + kept[at + 1 :] == raw[1 : at + 1] + raw[at + 2 :]
    if len(set(ends)) == 1:
        assert kept[at] == f"new = true{ends[0]}".encode()
