"""Long lines, broken for people to read; a number stays with its unit."""

from __future__ import annotations

import re
import textwrap

_KEPT = "\u00a0"
_UNITS = "% vol|%|g/100 mL|g/100 g|mL|ml|L|qt|gal|oz|g|s|dash|dashes|drops?|pieces?|bar spoons?"
_NUMBER = re.compile(rf"\d(?: [\d/.]+)*(?: ± [\d.]+)?(?: (?:{_UNITS})(?![\w/]))?")


def wrapped(text: str, width: int) -> str:
    """`text` with every line longer than `width` broken; what follows is indented by two more.

    A single word that is longer stays whole, and so does a number with its unit.
    """
    return "\n".join(_broken(line, width) for line in text.split("\n"))


def _broken(line: str, width: int) -> str:
    if len(line) <= width:
        return line
    indent = line[: len(line) - len(line.lstrip())]
    lines = textwrap.wrap(
        _NUMBER.sub(lambda number: number[0].replace(" ", _KEPT), line),
        width,
        subsequent_indent=f"{indent}  ",
        break_long_words=False,
        break_on_hyphens=False,
    )
    return "\n".join(lines).replace(_KEPT, " ")
