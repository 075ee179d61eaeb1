"""The spec book: one line, one paragraph or one row for each drink."""

from __future__ import annotations

from collections.abc import Sequence

from solver.drinks.assess import Assessment
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.spec import Misread
from solver.pantry.vocabulary import TECHNIQUE_NAMES
from solver.requests.origin import From
from solver.show.text.assessed import move_words
from solver.show.text.guest import DEFERS, day_line, told_line
from solver.show.text.pours import SHOWN, numbers_line, said_amount
from solver.show.text.table import Cell, csv_table
from solver.show.text.target import target_briefly
from solver.show.text.uncertain import uncooked_names
from solver.show.words.names_in_a_row import listed
from solver.tasks.assess_all import Assessed

NONE = "The bar has no specs. Write one: equipour assess '2 oz gin' ... --save NAME."
_GAP = "  "


def specs_text(found: Sequence[Assessment], misread: Sequence[Misread], bar: Bar) -> str:
    """The book as a table, a line for each spec; then the files with a mistake."""
    if not found and not misread:
        return NONE
    money = bar.currency or "cost"
    heads = ("name", "profile", "% vol", "sugar", "acid", "mL", money, "drinks", "approved",
             "allergens", "target")  # fmt: skip
    rows = [heads, *(_row(each) for each in found)]
    widths = [max(len(row[at]) for row in rows) for at in range(len(heads))]
    lines = [_line(row, widths) for row in rows] if found else []
    lines += _misread_lines(misread)
    units = f"In the glass; sugar and acid in g/100 mL; drinks of {bar.jurisdiction}."
    return "\n".join([*lines, "", units, *_drafts(found, bar), DEFERS, *day_line(bar)])


def _drafts(found: Sequence[Assessment], bar: Bar) -> list[str]:
    """Which specs are drafts, and what has to be cooked for them."""
    return [
        f"{each.spec.name} is a draft: {listed(raw)} {'is' if len(raw) == 1 else 'are'} not cooked "
        "yet, and judged by recipe."
        for each in found
        if (raw := uncooked_names(each.lines, bar))
    ]


def _row(found: Assessment) -> tuple[str, ...]:
    approved = found.spec.approved
    values = (
        "-" if (value := found.values[name]) is None else f"{value:.{MEASURES[name].decimals}f}"
        for name in SHOWN
    )
    return (
        found.spec.name,
        found.profile.name if found.profile else "-",
        *values,
        f"{found.guest.standard_drinks:.1f}",
        approved.date.isoformat() if approved else "never",
        allergens_briefly(found),
        target_of(found),
    )


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    numbers = range(2, 2 + len(SHOWN) + 1)
    cells = (
        f"{cell:>{width}}" if at in numbers else f"{cell:<{width}}"
        for at, (cell, width) in enumerate(zip(row, widths, strict=True))
    )
    return _GAP.join(cells).rstrip()


def allergens_briefly(found: Assessment) -> str:
    """What it holds, may hold, and whether that is all that is known."""
    guest = found.guest
    said = [*guest.allergens, *(f"may: {each}" for each in guest.may_contain)]
    said += ["not all known"] if guest.allergens_not_known else []
    return ", ".join(said) or "none stated"


def target_of(found: Assessment) -> str:
    """Whether it is on target, or what is off."""
    if found.profile is None:
        return "no profile"
    said = target_briefly(found.values, (met.aim for met in found.aims))
    also = [
        f"over the line of its {met.origin.of}"
        if met.origin.kind is From.GLASS
        else f"{met.limit.measure.label} beyond its limit"
        for met in found.limits
        if met.kept is False
    ]
    return ", ".join([*([] if also and said == "on target" else [said]), *also])


def _misread_lines(misread: Sequence[Misread]) -> list[str]:
    lines = [f"{each.path.name}: {each.error}" for each in misread]
    return ["", "Not read:", *(f"  {line}" for line in lines)] if lines else []


def specs_csv(found: Sequence[Assessment], misread: Sequence[Misread], bar: Bar) -> str:
    """The book as a table for a spreadsheet; a file with a mistake has nothing but that."""
    heads = ("name", "file", "profile", *(MEASURES[name].key for name in SHOWN), "currency",
             "standard_drinks", "allergens", "may_contain", "allergens_not_known", "target",
             "approved", "mistake")  # fmt: skip
    rows: list[tuple[Cell, ...]] = [
        (
            each.spec.name,
            each.spec.origin.name if each.spec.origin else None,
            each.profile.name if each.profile else None,
            *(each.values[name] for name in SHOWN),
            bar.currency,
            each.guest.standard_drinks,
            ", ".join(each.guest.allergens),
            ", ".join(each.guest.may_contain),
            ", ".join(each.guest.allergens_not_known),
            target_of(each),
            each.spec.approved.date.isoformat() if each.spec.approved else None,
            None,
        )
        for each in found
    ]
    rows += [(None, each.path.name, *[None] * 13, str(each.error)) for each in misread]
    return csv_table(heads, rows)


def each_text(found: Assessed, bar: Bar) -> str:
    """Every spec in a few lines: its pours, what it is in the glass, what is off, for the guest."""
    if not found.specs and not found.misread:
        return NONE
    lines = [line for each in found.specs for line in (*_paragraph(each, bar), "")]
    misread = _misread_lines(found.misread)[1:]
    drafts = _drafts(found.specs, bar)
    return "\n".join([*lines, *misread, *drafts, DEFERS, *day_line(bar)])


def _paragraph(found: Assessment, bar: Bar) -> list[str]:
    made = [found.profile.name] if found.profile else []
    made += [TECHNIQUE_NAMES[found.technique], *([found.glass] if found.glass else [])]
    pours = ", ".join(f"{said_amount(line, bar)} {line.ingredient.name}" for line in found.lines)
    drinks = f"{found.guest.standard_drinks:.1f} standard drinks"
    target = target_of(found)
    approved = found.spec.approved
    since = ""
    if approved is not None and found.moved:
        since = f" Since {approved.date}: {listed(map(move_words, found.moved))}."
    return [
        f"{found.spec.name}: {', '.join(made)}",
        f"  {pours}",
        f"  {numbers_line(found.values, bar)}; {drinks}",
        f"  {target[:1].upper()}{target[1:]}.{since}",
        f"  {told_line(found.guest.told)}",
        *(f"  Caution: {caution}" for caution in found.guest.cautions),
    ]
