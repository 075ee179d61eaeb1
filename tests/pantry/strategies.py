"""Files as people break them: good ones with lines lost, values swapped and bytes strewn in."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

from hypothesis import strategies as st

from solver.errors import BadInput, BadInputs

ROOT = Path(__file__).parents[2]

_ODD_TEXT = st.one_of(
    st.text(max_size=20),
    st.sampled_from(
        ["", " ", "0", "-1", "1/0 oz", "2 oz", "17%", "1..", "..", "nan", "1e999", "½", "9" * 400,
         "oz", "3..2 oz", "<=", "1,000 ml", "spirit", "rye-whiskey", "0 ml", "sour", "\x00", "{"]
    ),
)  # fmt: skip


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        # TOML has no surrogates and no bare DEL; JSON writes the rest as TOML reads it.
        return json.dumps(value).replace("\x7f", "\\u007f")
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{_toml(str(k))} = {_toml(v)}' for k, v in value.items())}}}"
    return str(value)


def _encodable(text: str) -> bool:
    return not any("\ud800" <= c <= "\udfff" or c > "\uffff" for c in text)


_SCALARS = st.one_of(
    _ODD_TEXT.filter(_encodable),
    st.booleans(),
    st.integers(min_value=-(10**30), max_value=10**30),
    st.floats(),
    st.sampled_from([1, 0, 0.5, 100, 1e308]),
)
TOML_VALUES = st.recursive(
    _SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.sampled_from(["pct", "g_100ml", "low", "high", "basis", "source", "x", "citric"]),
            inner,
            max_size=3,
        ),
    ),
    max_leaves=4,
).map(_toml) | st.sampled_from(
    ["2026-13-45", "1979-05-27", "[[[[", "'''", '"""', "inf", "9" * 5000]
)
"""Values as TOML writes them, some of them not TOML at all."""


@st.composite
def broken_toml(draw: st.DrawFn, good: str) -> bytes:
    """`good` with a thing or two done to it."""
    lines = good.split("\n")
    for _ in range(draw(st.integers(1, 2))):
        at = draw(st.integers(0, len(lines) - 1))
        what = draw(
            st.sampled_from([*["value"] * 5, "lose", "lose", "twice", "key", "noise", "quote"])
        )
        name, sign, _ = lines[at].partition("=")
        if what == "lose":
            lines[at] = ""
        elif what == "value" and sign:
            lines[at] = f"{name}= {draw(TOML_VALUES)}"
        elif what == "twice":
            lines.insert(draw(st.integers(0, len(lines) - 1)), lines[at])
        elif what == "key":
            key = draw(
                st.sampled_from(["nmae", "x.y", '"a b"', "[x]", "[[pours]]", "[parts]", "1"])
            )
            lines[at] = f"{key} {sign} {draw(TOML_VALUES)}" if sign else key
        elif what == "noise":
            lines[at] += draw(st.text(max_size=8).filter(_encodable))
        else:
            lines[at] = lines[at].replace('"', "", 1)
    raw = "\n".join(lines).encode()
    if draw(st.integers(0, 9)) == 0:
        at = draw(st.integers(0, len(raw)))
        raw = raw[:at] + draw(st.binary(max_size=4)) + raw[at:]
    return raw


@st.composite
def broken_csv(draw: st.DrawFn, good: str) -> bytes:
    """`good` with cells swapped for others, in one of the dialects of spreadsheets."""
    lines = [line.split(",") for line in good.split("\n")]
    for _ in range(draw(st.integers(1, 2))):
        row = draw(st.sampled_from(lines))
        at = draw(st.integers(0, len(row) - 1))
        row[at] = draw(
            _ODD_TEXT | st.sampled_from(['"', '""', '"a', ",", ";", "\r", "\n", "1.5 bottles"])
        )
    separator = draw(st.sampled_from([",", ";", "\t"]))
    newline = draw(st.sampled_from(["\n", "\r\n", "\r"]))
    text = newline.join(separator.join(row) for row in lines)
    encoding = draw(st.sampled_from(["utf-8", "utf-8-sig", "cp1252", "utf-16", "latin-1"]))
    raw = text.encode(encoding, errors="ignore")
    if draw(st.integers(0, 9)) == 0:
        at = draw(st.integers(0, len(raw)))
        raw = raw[:at] + draw(st.binary(max_size=4)) + raw[at:]
    return raw


def mistakes_in(read: Callable[[], object]) -> list[BadInput]:
    """Every mistake that `read` reports; any other exception escapes and fails the test."""
    try:
        read()
    except BadInput as error:
        return [error]
    except BadInputs as error:
        return list(error.errors)
    return []
