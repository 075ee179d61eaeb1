"""The questions of nights and stock, for programs; as `solver.api.questions`.

Only `sold` writes, and only where it is told to.
"""

from __future__ import annotations

import datetime
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from solver.api.arguments import (
    Amount,
    Count,
    CountOrNone,
    NotLess,
    Number,
    OpenBar,
    Percent,
    Share,
    checked,
    member,
)
from solver.api.batch_results import Batch, Price
from solver.api.menu_results import Menu
from solver.api.plan_results import Plan
from solver.api.stock_results import Sold, StockLog, StockPast
from solver.clock import Clock
from solver.drinks.assess import find_drink
from solver.pantry.plan_file import find_plan, read_coming
from solver.search.milp.cpsat import CpSat
from solver.show.documents.batch import batch_fields
from solver.show.documents.menu import menu_fields
from solver.show.documents.past_their_day import past_fields
from solver.show.documents.plan import plan_fields
from solver.show.documents.price import price_fields
from solver.show.documents.sold import sold_fields
from solver.show.documents.stock import log_fields
from solver.tasks.batch import Finish, batch_of, read_size
from solver.tasks.menu.menu import menu as chosen_menu
from solver.tasks.menu.menu_wish import MOST_ON, USUAL_SHARE, USUAL_SOBER
from solver.tasks.menu.read_menu import WrittenMenu, read_menu
from solver.tasks.plan.plan import plan as planned
from solver.tasks.price.cheaper import cheaper
from solver.tasks.price.price_book import costed_for, priced, priced_all
from solver.tasks.price.unit_prices import UnitPrices
from solver.tasks.stock.movement import log_of
from solver.tasks.stock.sales import sold as taken
from solver.tasks.stock.sales_file import read_sales


@checked
def batch(
    bar: OpenBar,
    *drink: str,
    serves: Count | None = None,
    make_ml: Amount | None = None,
    bottle_ml: Amount | None = None,
    made: datetime.date | None = None,
    technique: str | None = None,
    on_ice: str | None = None,
    celsius: Number | None = None,
    water_pct: Percent | None = None,
) -> Batch:
    """A drink mixed ahead: so many serves, or so many mL; `bottle_ml` is what it is bottled in.

    `on_ice` is "never", "briefly" or "again"; `water_pct` of the bottle, in place of the melt.
    """
    make, bottle = (None if ml is None else f"{ml:.6f} ml" for ml in (make_ml, bottle_ml))
    found = batch_of(
        find_drink(drink, (), bar),
        bar,
        read_size(bar.measures, serves=serves, make=make, bottle=bottle),
        made=bar.happened(made),
        technique=technique,
        on_ice=None if on_ice is None else member(Finish, on_ice, "finish"),
        celsius=celsius,
        water_pct=water_pct,
    )
    return Batch.model_validate(batch_fields(found, bar))


@checked
def price(
    bar: OpenBar,
    *drink: str,
    margin_pct: Percent | None = None,
    tax_pct: NotLess | None = None,
    under: Amount | None = None,
    seconds: Amount = 60.0,
) -> Price:
    """What a drink costs, line by line, and what to ask for it; without one, of every spec.

    With `under`, the smallest change with which the drink costs no more. Specs that can't be read
    are left out of the list.
    """
    margin, tax = (None if pct is None else f"{pct:g}%" for pct in (margin_pct, tax_pct))
    own = costed_for(bar, margin, None, tax)
    if not drink:
        return Price.model_validate(price_fields(priced_all(own)[0], None, own))
    found = priced(drink, own)
    cost, less = found[0], None
    if under is not None and cost.total is not None and cost.total > under:
        less = cheaper(cost, under, own, UnitPrices(own), CpSat(), Clock.of(seconds))
    return Price.model_validate(price_fields([found], less, own))


@checked
def plan(bar: OpenBar, plan: str, *, seconds: Amount = 60.0, waste_first: bool = False) -> Plan:
    """What to prepare, pour and order for nights to come: a plan of the bar, or a file's path.

    With `waste_first` the least is thrown away, whatever that costs.
    """
    coming = read_coming(find_plan(plan, bar), bar)
    found = planned(coming, bar, Clock.of(seconds), waste_first=waste_first)
    return Plan.model_validate(plan_fields(found, bar))


@checked
def menu(
    bar: OpenBar,
    forecast: Count,
    *,
    on: Sequence[datetime.date] = (),
    until: datetime.date | None = None,
    include: Mapping[str, str] | None = None,
    of: Sequence[str] = (),
    use_up: Mapping[str, datetime.date] | None = None,
    most: Count = MOST_ON,
    share: str = USUAL_SHARE,
    sober: str = USUAL_SOBER,
    price: Amount | None = None,
    margin: Share | None = None,
    guests: Sequence[str] = (),
    spend: NotLess | None = None,
    new: bool = True,
    waste_first: bool = False,
    why: bool = False,
    seconds: Amount = 60.0,
) -> Menu:
    """Which drinks to offer for so many in all, on some nights, so that the least is lost.

    `include` are specs that are on it, by name with their share ("" for any); `of` what new drinks
    are made of; `margin` a share of 1, of a `price` that all are sold at; `sober` the most of a
    night without alcohol. `spend` 0 buys nothing. What is lost is what is bought and what spoils;
    with `waste_first` the least is thrown away, whatever that costs.
    """
    written = WrittenMenu(
        words=tuple(f"{name}={part}" for name, part in (include or {}).items()),
        forecast=forecast, nights=tuple(on), until=until, of=tuple(of),
        use_up=tuple(f"{name}={day}" for name, day in (use_up or {}).items()),
        most=most, share=share, sober=sober, price=None if price is None else f"{price}",
        guests=tuple(guests), spend=None if spend is None else f"{spend}", new=new,
    )  # fmt: skip
    target = None if margin is None else f"{100 * margin}%"
    priced = costed_for(bar, target, None, None)
    asked = read_menu(written, priced)
    found = chosen_menu(asked, priced, Clock.of(seconds), why=why, waste_first=waste_first)
    return Menu.model_validate(menu_fields(found, priced))


@checked
def sold(
    bar: OpenBar,
    file: str | os.PathLike[str],
    *,
    on: datetime.date | None = None,
    named: Mapping[str, str] | None = None,
    skip: Sequence[str] = (),
    columns: Mapping[str, str] | None = None,
    run_out: bool = False,
    again: bool = False,
    write: bool = False,
) -> Sold:
    """What the sales of a till's file take from the shelf; with `write`, taken off it.

    `named` says which spec a name of the till means, `columns` the heading of a column: "drink",
    "sold" or "date".
    """
    headings = [f"{word}={heading}" for word, heading in (columns or {}).items()]
    found = taken(
        read_sales(Path(file), headings), bar, on,
        named=[f"{name}={spec}" for name, spec in (named or {}).items()],
        skipped=skip, run_out=run_out, again=again,
    )  # fmt: skip
    if write and found.movement is not None:
        with found.movement.prepared(bar) as put:
            put()
    return Sold.model_validate(sold_fields(found))


@checked
def stock_log(bar: OpenBar) -> StockLog:
    """What moved on the shelf, oldest first."""
    log = log_of(bar)
    return StockLog.model_validate(log_fields(log, log.entries))


@checked
def stock_past(bar: OpenBar, within_days: CountOrNone = 3) -> StockPast:
    """What is past its last day, and what will be within some days."""
    return StockPast.model_validate(past_fields(bar, within_days))
