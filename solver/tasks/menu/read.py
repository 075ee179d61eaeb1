"""Read a wish for a menu from words: the one reader for commands and programs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from solver.errors import BadInput, Where
from solver.pantry.bar import Bar
from solver.pantry.costing import parse_share
from solver.pantry.plan_file import (
    MOST_DRINKS,
    WHOLE,
    Coming,
    PlanShare,
    find_plan,
    read_coming,
    read_share,
    read_spend,
    read_use_up,
)
from solver.printable import short
from solver.tasks.menu.wish import MOST_ON, USUAL_SHARE, USUAL_SOBER, MenuWish
from solver.tasks.plan.question import MOST_DAYS
from solver.tasks.price.price import read_money


@dataclass(frozen=True)
class WrittenMenu:
    """A wish for a menu in words.

    `words` name a plan, or specs with or without a share. Without a plan, `forecast` is the number
    of drinks in all, on the `nights`, or on every night `until` a day, or today. With `priced` a
    margin is asked for, and drinks of unknown cost are not offered.
    """

    words: tuple[str, ...] = ()
    forecast: int | None = None
    nights: tuple[date, ...] = ()
    until: date | None = None
    of: tuple[str, ...] = ()
    use_up: tuple[str, ...] = ()
    most: int = MOST_ON
    share: str = USUAL_SHARE
    sober: str = USUAL_SOBER
    price: str | None = None
    guests: tuple[str, ...] = ()
    spend: str | None = None
    new: bool = True
    priced: bool = False


def read_menu(written: WrittenMenu, bar: Bar) -> MenuWish:
    """Read a wish.

    Raises:
        BadInput, BadInputs: something can't be read or is not known.
    """
    coming = _coming(written, bar)
    last = max(day for day, _ in coming.nights)
    gone = dict(_gone(text, last, bar) for text in written.use_up)
    spend = coming.spend if written.spend is None else read_spend(written.spend, bar)
    return MenuWish(
        replace(coming, use_up={**coming.use_up, **gone}, spend=spend),
        share=_limits(written.share),
        most=written.most,
        guests=tuple(bar.avoidable.word(word) for word in written.guests),
        price=None if written.price is None else read_money(written.price, bar),
        new=written.new,
        priced=written.priced,
        sober=round(parse_share(written.sober) * WHOLE),
        of=tuple(bar.bottles.find(name).key for name in written.of),
    )


def _coming(written: WrittenMenu, bar: Bar) -> Coming:
    words, forecast = written.words, written.forecast
    if forecast is not None:
        if written.nights and written.until is not None:
            what = "the nights are said twice"
            raise BadInput(what, where=Where("--until"), remedy="Give --on or --until.")
        days = written.nights or _every_night(written.until or bar.today, bar)
        return Coming(_spread(forecast, days), _shares(words))
    if len(words) != 1 or "=" in words[0] or written.nights or written.until:
        what = "how many drinks there will be is not said"
        raise BadInput(what, remedy="Add --forecast 140, or name a plan of the bar.")
    return read_coming(find_plan(words[0], bar), bar)


def _shares(words: tuple[str, ...]) -> Mapping[str, PlanShare | None]:
    shares: dict[str, PlanShare | None] = {}
    for word in words:
        name, _, share = (part.strip() for part in word.partition("="))
        if not name or name in shares:
            what = (
                f"'{short(word)}' names no drink" if not name else f"{short(name)} is named twice"
            )
            raise BadInput(what, remedy="Write it like harbour-light=40%.")
        shares[name] = read_share(share)
    return shares


def _spread(count: int, days: tuple[date, ...]) -> tuple[tuple[date, int], ...]:
    """A number of drinks spread evenly over nights, the first ones with one more."""
    nights = sorted(dict.fromkeys(days))
    each, more = divmod(count, len(nights))
    if not each or each > MOST_DRINKS:
        than = "fewer" if not each else "more"
        what = f"{count} drinks are {than} than {len(nights)} nights have"
        raise BadInput(what, where=Where("--forecast"))
    return tuple((day, each + (at < more)) for at, day in enumerate(nights))


def _every_night(until: date, bar: Bar) -> tuple[date, ...]:
    """Every night from today to the last."""
    days = (until - bar.today).days
    if days < 0:
        raise BadInput(f"{until} is over", where=Where("--until"), why=f"today is {bar.today}")
    if days >= MOST_DAYS:
        remedy = f"Ask for {MOST_DAYS} days at most."
        raise BadInput(f"{until} is too far away", where=Where("--until"), remedy=remedy)
    return tuple(bar.today + timedelta(days=day) for day in range(days + 1))


def _gone(text: str, last: date, bar: Bar) -> tuple[str, date]:
    """What must be used up and by when: NAME=DATE, or NAME for its own last day or the last
    night."""
    if "=" in text:
        return read_use_up(text)
    key = bar.bottles.find(text).key
    row = bar.stocked(key)
    day = row.use_by if row is not None else None
    return key, last if day is None else min(day, last)


def _limits(text: str) -> PlanShare:
    """The limits on the share of one drink."""
    share = read_share(text)
    if share is None or not share.high or share.low > share.high:
        what = f"'{short(text)}' is no share that a drink could have"
        raise BadInput(what, where=Where("--share"), remedy="Write it like 10..40%.")
    return share
