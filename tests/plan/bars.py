"""Small bars with plans, written out for a test."""

from __future__ import annotations

import datetime
from pathlib import Path

from solver.clock import Clock
from solver.pantry.bar import Bar
from solver.pantry.load_bar import load_bar
from solver.pantry.plan_file import Coming, PlanShare, read_share
from solver.tasks.plan.answer import Plan, PlanAnswer
from solver.tasks.plan.plan import plan

TODAY = datetime.date(2026, 5, 4)  # a Monday
HEAD = "ingredient,bottle,price,on_hand,opened,use_by,case,supplier\n"
SYRUP = """
[plain]
name = "the syrup"
kind = "syrup/plain"
abv = { pct = 0, basis = "definition", source = "none" }
sugar = { g_100ml = 61, basis = "estimate", source = "invented" }
acid = { g_100ml = 0, basis = "estimate", source = "invented" }
allergens = []
animal = []
life = { days = 5, basis = "estimate", source = "invented" }

[plain.recipe.inputs]
white-sugar = "500 g"
water = "500 g"

[[plain.recipe.steps]]
do = "steep"
time = "20 h"

[plain.recipe.measured]
volume = "813 ml"
"""


def spec(name: str, **pours: str) -> str:
    """A spec's file; keys of pours have underscores for hyphens."""
    lines = "".join(
        f'\n[[pours]]\ningredient = "{key.replace("_", "-")}"\namount = "{amount}"\n'
        for key, amount in pours.items()
    )
    return f'name = "{name}"\nprofile = "sour"\n{lines}'


def bar_in(folder: Path, shelf: str, *specs: str, house: str = "") -> Bar:
    """A bar with a shelf, some specs, and a house file."""
    (folder / "specs").mkdir(exist_ok=True)
    (folder / "house").mkdir(exist_ok=True)
    head = f'name = "test"\ncurrency = "EUR"\ntoday = {TODAY}\nshow = "ml"\n'
    (folder / "bar.toml").write_text(head, encoding="utf-8")
    (folder / "shelf.csv").write_text(HEAD + shelf, encoding="utf-8")
    for number, text in enumerate(specs):
        (folder / "specs" / f"{'abcdef'[number]}.toml").write_text(text, encoding="utf-8")
    if house:
        (folder / "house" / "house.toml").write_text(house, encoding="utf-8")
    return load_bar(folder)


def on(day: int) -> datetime.date:
    """So many days from today."""
    return TODAY + datetime.timedelta(days=day)


def coming(*nights: tuple[int, int], shares: str = "", **more: object) -> Coming:
    """Nights as days from today with their drinks; shares like "a=40% b"."""
    read: dict[str, PlanShare | None] = {}
    for word in shares.split():
        name, _, share = word.partition("=")
        read[name] = read_share(share)
    days = tuple((on(day), drinks) for day, drinks in nights)
    return Coming(days, read, **more)  # type: ignore[arg-type]


def answer(what: Coming, bar: Bar) -> PlanAnswer:
    return plan(what, bar, Clock.of(60))


def planned(what: Coming, bar: Bar) -> Plan:
    """The plan that there is."""
    found = answer(what, bar)
    assert isinstance(found, Plan), getattr(found, "conflict", found)
    return found
