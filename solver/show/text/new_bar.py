"""A new bar: what was written, what was taken for granted, and what to ask it first."""

from __future__ import annotations

import shlex
from pathlib import Path

from solver.pantry.defaults import load_defaults
from solver.tasks.new_bar import NOT_LISTED, NewBar

FIRST = (
    ("equipour design sour", "the best sour from this shelf"),
    ("equipour card first-sour", "a drink of yours on a card"),
    ('equipour shelf add "rye" --size 700ml', "one bottle more"),
    ('equipour recipe "tea syrup" "300 g sugar" "300 ml tea"', "a syrup of your own"),
)
"""What to ask a new bar first, and what comes of it."""
FIRST_OF_EMPTY = (
    ("equipour shelf import bottles.csv", "your own list of bottles"),
    ('equipour shelf add "rye" --size 700ml', "one bottle"),
    ('equipour recipe "tea syrup" "300 g sugar" "300 ml tea"', "a syrup of your own"),
)
"""What to do first in a bar without bottles."""


def opened_text(opened: NewBar, here: Path | None) -> str:
    """What there is now; `here` is the folder that one stands in."""
    choices = opened.choices
    says = load_defaults().pour_sets[choices.pour_set].says
    money = f"prices in {choices.currency}" if choices.currency else "no currency"
    at_home = here is not None and opened.root.resolve() == here.resolve()
    where = "this folder" if at_home else str(opened.root)
    country = "10 g to a standard drink" if choices.country == NOT_LISTED else choices.country
    lines = [
        f"A new bar in {where}: {country}, {money}, {says}.",
        "",
        *(f"  {path.relative_to(opened.root)}" for path in opened.written),
    ]
    if opened.kept:
        kept = ", ".join(str(path.relative_to(opened.root)) for path in opened.kept)
        lines += ["", f"Already there, and left as it was: {kept}."]
    first = FIRST_OF_EMPTY if opened.empty else FIRST
    todo = "No price is filled in: put yours into shelf.csv."
    lines += ["", "Its shelf is empty. Fill it:" if opened.empty else f"{todo} Try next:", ""]
    if not at_home:
        lines.append(f"  cd {shlex.quote(str(opened.root))}")
    width = max(len(command) for command, _ in first)
    lines += [f"  {command:<{width}}  # {says}" for command, says in first]
    return "\n".join(lines)
