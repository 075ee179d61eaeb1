"""What drinks cost and what to ask for them, as text and as tables."""

from __future__ import annotations

import re
from collections.abc import Sequence

from solver.pantry.bar import Bar
from solver.pantry.cost_settings import Costing
from solver.pantry.unit_price import Priced
from solver.printable import short
from solver.quantities import show_number
from solver.show.text.pours import said_amount
from solver.show.text.rebalanced import caution_words, change_words, told_words
from solver.show.text.table import csv_table
from solver.show.words.names_in_a_row import listed
from solver.tasks.price.cheaper import Cheaper
from solver.tasks.price.drink_cost import Cost, CostLine
from solver.tasks.price.list_price import ListPrice
from solver.tasks.respec.rebalanced import Rebalanced

_WIDE = 44


def price_text(cost: Cost, asking: ListPrice | None, bar: Bar) -> str:
    """One drink: what each line costs, what is added, and what to ask."""
    costing, added = bar.costing, cost.added
    lines = [f"{cost.spec.name}{f', {bar.currency}' if bar.currency else ''}", ""]
    lines += [
        _row(*_line_words(line, said_amount(pour, bar)))
        for line, pour in zip(cost.pours, cost.made.lines, strict=True)
    ]
    lines += [_garnish_row(line) for line in cost.garnish]
    lines += [_row(f"garnish: {words}", "", "not weighed") for words in cost.unweighed]
    lines.append(_row(f"spilled and poured over, {_share(costing.waste)}", _money(added.waste)))
    left = f"left in the bottle, {_share(costing.left_in_bottle)}"
    lines.append(_row(left, _money(added.left_in_bottle)))
    if cost.iced:
        ice = "" if costing.ice_price_kg is not None else "no price"
        lines.append(_row(f"ice, {costing.ice_g:.0f} g", _money(added.ice), ice))
    if costing.labour_per_hour is not None:
        none = "no time stated" if cost.untimed else ""
        lines.append(_row("work on what the house makes", _money(added.labour), none))
    total = cost.total
    lines.append(_row("cost", "not known" if total is None else _money(total)))
    if total is None:
        lines += ["", _missing(cost, bar)]
    if asking is not None:
        lines += ["", *_asking_lines(asking, costing)]
    return "\n".join([*lines, *_assumed(cost, costing)])


def _row(words: str, amount: str, note: str = "") -> str:
    return f"  {words:<{_WIDE}}{amount:>9}{f'  {note}' if note else ''}".rstrip()


def _line_words(line: CostLine, said: str) -> tuple[str, str, str]:
    cost = line.cost
    words = _fitting(f"{said} ", _name(line))
    if line.price is None or cost is None:
        return words, "-", "no price"
    note = {Priced.RECIPE: "from its recipe"}.get(line.price.source, "")
    fruit = line.price.fruit
    if line.beside:
        note = "of the same eggs"
    elif fruit is not None:
        note = f"{show_number(fruit.pieces(line.amount), 2)} {fruit.key.replace('-', ' ')}"
    return words, _money(cost), note


def _name(line: CostLine) -> str:
    """The name without what follows its first comma: how strong, how fresh."""
    return line.ingredient.name.partition(",")[0]


def _fitting(before: str, name: str) -> str:
    """Words before a name and the name, without its brackets where they have no room."""
    whole = f"{before}{name}"
    if len(whole) < _WIDE:
        return whole
    return short(f"{before}{re.sub(r' *[(].*', '', name) or name}", _WIDE - 2)


def _garnish_row(line: CostLine) -> str:
    amount = f"{show_number(line.amount)} {line.ingredient.unit}"
    words = _fitting(f"garnish: {amount} ", _name(line))
    if line.cost is None:
        return _row(words, _money(0.0), "no price")
    by_juice = line.price is not None and line.price.source is Priced.JUICE
    return _row(words, _money(line.cost), "by its juice" if by_juice else "")


def _money(value: float) -> str:
    return f"{value:.2f}"


def _share(value: float) -> str:
    return f"{show_number(100 * value)} %"


def _tax(costing: Costing) -> str:
    """The tax as it is written in laws, to a thousandth of a per cent: 8.875 %."""
    return f"{show_number(100 * costing.tax, 3)} %"


def _missing(cost: Cost, bar: Bar) -> str:
    """What is missing, and how to say it."""
    keys = cost.unpriced
    each = "Write its price" if len(keys) == 1 else "Write their prices"
    said = f"There is no price of {listed(keys)}. {each} into shelf.csv, per bottle."
    loose = next((key for key in keys if (item := bar.library.get(key)) and item.piece), None)
    if loose is None:
        return said
    return f"{said} By the piece: `equipour stock in {loose} NUMBER --price PRICE`."


def _asking_lines(asking: ListPrice, costing: Costing) -> list[str]:
    said = _money(asking.tax) if costing.tax_known else "-"
    share = f", {_tax(costing)}" if costing.tax_known else ""
    tax = [_row(f"of which tax{share}", said, "" if costing.tax_known else "not known")]
    if costing.tax_on_top:
        tax = [_row(f"plus {_tax(costing)} tax", _money(asking.paid))] if costing.tax else []
    return [
        _row("on the list", _money(asking.price)),
        *tax,
        _row("margin", _share(asking.margin)),
        _row("pour cost", _share(asking.pour_cost)),
    ]


def _assumed(cost: Cost, costing: Costing) -> list[str]:
    """What bar.toml does not say, and what was taken instead."""
    usual = {
        "waste": "waste",
        "left_in_bottle": "what stays in the bottle",
        **({"ice_per_drink": "ice"} if cost.iced and costing.ice_price_kg is not None else {}),
    }
    taken = [words for name, words in usual.items() if name not in costing.stated]
    nothing = [] if costing.tax_known else ["tax"]
    nothing += ["ice"] if cost.iced and costing.ice_price_kg is None else []
    nothing += ["work"] if costing.labour_per_hour is None else []
    nothing += [f"work on {each.key}" for each in cost.untimed]
    unpriced = [line.ingredient.key for line in cost.garnish if line.price is None]
    lines = []
    if taken:
        lines.append(f"As usual, not as weighed here: {listed(taken)}.")
    if nothing or unpriced:
        lines.append(f"Counted as nothing: {listed([*nothing, *unpriced])}.")
    if lines:
        lines.append("The table [costing] of bar.toml and the shelf say otherwise.")
    if cost.untimed:
        key = cost.untimed[0].key
        lines.append(f'How long {key} takes by hand: [costing.hands_on] {key} = "15 min".')
    return ["", *lines] if lines else []


def cheaper_text(found: Cheaper, bar: Bar) -> str:
    """The change that brings a drink under a cost, or that none does."""
    if found.found is not None and found.cost is not None:
        cost = _money(found.cost.total or 0.0)
        said = f"{_changed(found.found, bar)}. It costs {cost} then.{_told(found.found)}"
        if found.other_kind:
            no = f"No change within the same kinds of bottles costs {_money(found.most)} or less."
            best = "in keeping" if found.was.spec.profile else "closely related"
            of = "" if found.others == 1 else f"; the most {best} of {found.others} that do"
            said = f"With one of another kind: {said} Proven: {_KEPT}{of}."
            return f"{no} {said} Taste is not compared."
        return f"Under {_money(found.most)}: {said} {_PROVEN}; {_KEPT}."
    no = (
        f"No change keeps the drink and costs {_money(found.most)} or less, within the same kinds "
        "of bottles or with one of another."
    )
    if found.least is None or found.least_cost is None:
        return f"{no} Proven."
    cost = _money(found.least_cost.total or 0.0)
    if not found.least.changes:
        return f"{no} As it is, {cost}, it is the cheapest of the same kinds of bottles. Proven."
    changed, told = _changed(found.least, bar), _told(found.least)
    return f"{no} The cheapest of the same kinds is {cost}: {changed}.{told} Proven."


def cheap_enough_text(cost: float, most: float) -> str:
    """That a drink costs no more than it may."""
    return f"It costs {_money(cost)} as it is, no more than {_money(most)}: nothing has to change."


def _changed(found: Rebalanced, bar: Bar) -> str:
    """What is poured instead of what, and what more or less of; in a few words."""
    gone = [f"{said_amount(each.was, bar)} {each.line.ingredient.name}" for each in found.changes
            if each.was is not None and each.now is None]  # fmt: skip
    new = [f"{said_amount(each.now, bar)} {each.line.ingredient.name}" for each in found.changes
           if each.now is not None and each.was is None]  # fmt: skip
    swapped = [f"{listed(new)} instead of {listed(gone)}"] if new and gone else [*new, *gone]
    other = [change_words(each, bar) for each in found.changes if each.was and each.now]
    return "; ".join([*swapped, *other])


def _told(found: Rebalanced) -> str:
    """What a guest has to be told then that is not so now."""
    told = told_words(found.consequences)
    words = "; ".join(each for each in (told, *caution_words(found)) if each)
    return f" For guests, {words.removesuffix('.')}." if words else ""


_PROVEN = "Proven: no smaller change does"
_KEPT = (
    "strength, sugar, acid and volume stay what they are now, each within one noticeable difference"
)

_HEADS = ("drink", "cost", "price", "tax", "margin_pct", "pour_cost_pct", "no_price")
Priced_ = Sequence[tuple[Cost, ListPrice | None]]


def list_text(found: Priced_, bar: Bar) -> str:
    """The price list: one line for each drink."""
    money = bar.currency
    tax = "+ tax" if bar.costing.tax_on_top else "tax"
    lines = [f"{'':<28}{'cost':>8}{'price':>9}{tax:>8}{'margin':>9}", f"{'':<30}{money:>6}"]
    for cost, asking in found:
        name = cost.spec.name[:27]
        if asking is None or cost.total is None:
            lines.append(f"{name:<28}{'-':>8}  no price of {listed(cost.unpriced)}")
            continue
        taxed = f"{asking.tax:.2f}" if bar.costing.tax_known else "-"
        lines.append(
            f"{name:<28}{cost.total:>8.2f}{asking.price:>9.2f}{taxed:>8}"
            f"{100 * asking.margin:>7.1f} %"
        )
    garnish = {line.ingredient.key for cost, _ in found for line in cost.garnish if not line.price}
    nothing = sorted(garnish)
    if bar.costing.ice_price_kg is None and any(cost.iced for cost, _ in found):
        nothing.insert(0, "ice")
    if not bar.costing.tax_known:
        nothing.insert(0, "tax")
    if nothing:
        lines += ["", f"Counted as nothing: {listed(nothing)}."]
    return "\n".join(line.rstrip() for line in lines)


def list_csv(found: Priced_, bar: Bar) -> str:
    """The price list as a table."""
    known = bar.costing.tax_known
    return csv_table(
        _HEADS,
        (
            [
                cost.spec.name,
                cost.total,
                asking.price if asking else None,
                asking.tax if asking and known else None,
                100 * asking.margin if asking else None,
                100 * asking.pour_cost if asking else None,
                " ".join(cost.unpriced),
            ]
            for cost, asking in found
        ),
    )
