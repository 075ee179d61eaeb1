"""Sales, and what they take off the shelf."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from solver.drinks.serve import Serve, one_serve, serves
from solver.errors import BadInput, Where
from solver.files.checked import gather
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.pantry.library import fold, slug
from solver.pantry.pressed import taken_as_fruit
from solver.pantry.shelf import Shelf
from solver.pantry.spec import Spec
from solver.pantry.spec_lines import begins_with_number, spec_of_lines
from solver.pantry.stock_log import StockLog
from solver.pantry.stocked import Stocked
from solver.pantry.word_forms import spelt_so
from solver.printable import short
from solver.tasks.stock.from_batch import FromBatch, from_batch
from solver.tasks.stock.movement import Movement, log_of, moving, shelf_of
from solver.tasks.stock.opening import begins, date_after
from solver.tasks.stock.pouring_order import cells_after, poured_of
from solver.tasks.stock.sales_file import SalesFile, SoldLine

_ROUNDING = 1e-6
"""mL or g; what is less than that beyond a whole bottle, or below nothing, is rounding."""


@dataclass(frozen=True)
class Drunk:
    """A drink that was sold, under the till's first name for it, and how many."""

    spec: Spec
    till: str
    number: float


@dataclass(frozen=True)
class RanOut:
    """More was poured than the shelf had; both in the ingredient's own unit."""

    row: Stocked
    poured: float


@dataclass(frozen=True)
class Sold:
    """The effect of sales on the shelf.

    `movement` is None if nothing of it is on the shelf. Amounts are by key in the ingredient's own
    unit; for a juice that the shelf does not list, of its fruit. Nothing was taken of `absent`,
    which are not on the shelf, of `uncounted`, whose row states no amount, and of `unweighed`,
    words of garnishes without a known weight. `ran_out` are those of which more was poured than was
    there. `batches` are of drinks that came out of a batch, or would have.

    Of perishable ingredients: of `opened` a bottle was opened, and is dated now; of `begun` a new
    bottle was opened, and the row keeps the date of the one before. `past` are batches that were
    poured after their last day, `early` before they were ready. `skipped` are names of the
    till that were left out. `pressed` are juices of which more was poured than the shelf counts,
    taken as their fruit.
    """

    file: SalesFile
    drinks: tuple[Drunk, ...]
    poured: Mapping[str, float]
    movement: Movement | None
    absent: tuple[str, ...] = ()
    uncounted: tuple[str, ...] = ()
    unweighed: tuple[str, ...] = ()
    ran_out: tuple[RanOut, ...] = ()
    opened: tuple[str, ...] = ()
    begun: tuple[str, ...] = ()
    past: tuple[Stocked, ...] = ()
    early: tuple[Stocked, ...] = ()
    skipped: tuple[SoldLine, ...] = ()
    batches: tuple[FromBatch, ...] = ()
    pressed: tuple[str, ...] = ()


def sold(
    file: SalesFile,
    bar: Bar,
    day: date | None = None,
    *,
    named: Sequence[str] = (),
    skipped: Sequence[str] = (),
    run_out: bool = False,
    again: bool = False,
) -> Sold:
    """Take the sales of a file off the shelf.

    `day` None is the last day in the file, or else the bar's. `named` are like "HBR
    LIGHT=harbour-light" or "FIZZ=150 ml sparkling-wine". No amount goes below zero unless `run_out`
    sets such rows to 0; a file that was read before is refused, unless `again`.

    Raises:
        BadInput, BadInputs: a name is of no spec, with all of them; there is less than was poured;
            the file was read before; its day is still to come; a spec or the log can't be read.
    """
    shelf = shelf_of(bar)
    day = bar.happened(day) if day else _last_day(file, bar)
    log = log_of(bar)
    if not again:
        _refuse_twice(file, log)
    drinks, left_out = _drinks(file, bar, named, skipped)
    batches, each = _poured(drinks, shelf, bar, day)
    asked = serves(each)
    poured = taken_as_fruit(asked, shelf, bar.library, day)
    rows = {key: row for key in poured if (row := shelf.row(key)) is not None}
    known = {key: row for key, row in rows.items() if row.on_hand is not None}
    short_of = tuple(
        RanOut(row, poured[key])
        for key, row in known.items()
        if poured[key] > (row.on_hand or 0.0) + _ROUNDING
    )
    if short_of and not run_out:
        raise _too_little(short_of)
    cells, opened, begun = _taken(known, poured, shelf, bar, day)
    lots = [lot for key, row in rows.items() for lot in _out_of(row, poured[key], day)]
    source = f"{file.path.name} {file.digest}"
    return Sold(
        file=file,
        drinks=drinks,
        poured=poured,
        movement=moving(bar, "sold", cells, day, file=source, log=log) if cells else None,
        absent=tuple(key for key in _must(each) if key in poured and key not in rows),
        uncounted=tuple(key for key in rows if key not in known),
        unweighed=_unweighed(each),
        ran_out=short_of,
        opened=opened,
        begun=begun,
        past=tuple(lot for lot in lots if lot.past(day)),
        early=tuple(lot for lot in lots if lot.waiting(day)),
        skipped=left_out,
        batches=batches,
        pressed=tuple(key for key in asked if poured.get(key, 0.0) < asked[key] and shelf.row(key)),
    )


def _poured(
    drinks: Sequence[Drunk], shelf: Shelf, bar: Bar, day: date
) -> tuple[tuple[FromBatch, ...], list[tuple[Serve, float]]]:
    """What came out of batches, and all serves: those from batches first, then those from
    bottles."""
    batches: list[FromBatch] = []
    each: list[tuple[Serve, float]] = []
    for drink in drinks:
        found = from_batch(drink.spec, drink.number, shelf, bar, day)
        if found is not None:
            batches.append(found)
            each.append((found.serve, found.number))
        left = drink.number - (found.number if found else 0.0)
        each.append((one_serve(drink.spec, bar), left))
    return tuple(batches), [(serve, number) for serve, number in each if number]


def _last_day(file: SalesFile, bar: Bar) -> date:
    try:
        return bar.happened(max(file.days, default=None))
    except BadInput as error:
        raise error.at(Where(file.path)) from None


def _taken(
    rows: Mapping[str, Stocked], poured: Mapping[str, float], shelf: Shelf, bar: Bar, day: date
) -> tuple[dict[str, dict[str, str]], tuple[str, ...], tuple[str, ...]]:
    """The cells to write; keys of what is dated now, and of what has a new bottle open."""
    cells: dict[str, dict[str, str]] = {}
    opened: list[str] = []
    begun: list[str] = []
    for key, row in rows.items():
        left = max(0.0, (row.on_hand or 0.0) - poured[key])
        said = shelf.cells(row).get("on_hand", "")
        after = cells_after(row, poured[key], shelf, day)
        if after["on_hand"] != said:
            cells[key] = after
        if not begins(row, left, bar.house):
            continue
        dated = date_after(row, left, day)
        if dated:
            opened.append(key)
        elif row.opened is not None and dated is None:
            begun.append(key)
        if dated is not None and dated != shelf.cells(row).get("opened", ""):
            cells.setdefault(key, {})["opened"] = dated
    return cells, tuple(opened), tuple(begun)


def _out_of(row: Stocked, taken: float, day: date) -> tuple[Stocked, ...]:
    """The batches that something was poured of; of bottles, the open one at any rate."""
    return row.lots[:1] if row.by_bottle else poured_of(row, taken, day)


def _must(each: Sequence[tuple[Serve, float]]) -> list[str]:
    """Keys of what is poured; garnishes that the shelf does not list are ignored."""
    return list(dict.fromkeys(key for serve, _ in each for key in serve.poured))


def _unweighed(each: Sequence[tuple[Serve, float]]) -> tuple[str, ...]:
    words = (said for serve, _ in each for said in serve.garnish.uncounted)
    return tuple(dict.fromkeys(words))


def _drinks(
    file: SalesFile, bar: Bar, named: Sequence[str], skipped: Sequence[str]
) -> tuple[tuple[Drunk, ...], tuple[SoldLine, ...]]:
    """The drinks of the file, each spec once whatever its names, and the lines left out.

    Raises:
        BadInput, BadInputs: a name is of no spec, with all of them, or of one that can't be read;
            more of a drink was voided than sold.
    """
    specs = {fold(spec.name): spec for spec in bar.book.specs}
    files = {spec.origin.stem: spec for spec in specs.values() if spec.origin}
    known = {**{fold(stem.replace("-", " ")): s for stem, s in files.items()}, **specs}
    meant = dict(_meant(text, known, files, bar) for text in named)
    out = {fold(name) for name in skipped}
    lines = {fold(line.name): line for line in file.lines}
    for name in [*meant, *out]:
        if name not in lines:
            what = f"'{short(name)}' does not stand in {file.path.name}"
            raise BadInput(what, near=near_words(name, lines))
    found: dict[Path | str, tuple[Drunk, SoldLine]] = {}
    unknown: list[SoldLine] = []
    for name, line in lines.items():
        spec = meant.get(name) or known.get(name) or files.get(slug(name))
        spec = spec or known.get(spelt_so(name, known) or "")
        if name in out or not line.number:
            continue
        if spec is None:
            unknown.append(line)
        else:
            drunk, first = found.get(spec.origin or name, (Drunk(spec, line.name, 0.0), line))
            drunk = replace(drunk, number=drunk.number + line.number)
            found[spec.origin or name] = drunk, first
    if unknown:
        misread = {each.path.stem: each.error for each in bar.book.misread}
        files_meant = (slug(line.name) for line in unknown)
        gather([misread[stem] for stem in files_meant if stem in misread])
        raise _unknown(unknown, file, files)
    for drunk, first in found.values():
        if drunk.number < 0:
            what = f"fewer than none of '{short(drunk.till)}' were sold"
            where = Where(file.path, first.line)
            raise BadInput(what, where=where, why="its voids outnumber it")
    drinks = tuple(drunk for drunk, _ in found.values() if drunk.number)
    return drinks, tuple(line for name, line in lines.items() if name in out)


def _meant(
    text: str, known: Mapping[str, Spec], files: Mapping[str, Spec], bar: Bar
) -> tuple[str, Spec]:
    """Read a name of the till and the spec that it means, like "HBR LIGHT=harbour-light"."""
    name, sign, value = (part.strip() for part in text.partition("="))
    if not (name and sign and value):
        remedy = "Write it like 'HBR LIGHT=harbour-light' or 'FIZZ=150 ml sparkling-wine'."
        raise BadInput(f"'{short(text)}' maps no name to a spec", remedy=remedy)
    if begins_with_number(value):
        return fold(name), spec_of_lines([value], (), bar.bottles, bar.measures)
    spec = files.get(value.casefold()) or known.get(fold(value))
    if spec is None:
        near = near_words(value, files)
        remedy = "" if near else "See the folder specs of the bar."
        raise BadInput(f"'{short(value)}' is not a spec of this bar", near=near, remedy=remedy)
    return fold(name), spec


def _unknown(lines: Sequence[SoldLine], file: SalesFile, files: Mapping[str, Spec]) -> BadInput:
    """The mistake of names that mean no spec, with suggestions for each."""
    near = {line.name: near_words(slug(line.name), files, 0.5) for line in lines}
    said = [
        f"{short(name)} ({found[0]}?)" if found else short(name) for name, found in near.items()
    ]
    name, guess = next(((name, found[0]) for name, found in near.items() if found), ("", "SPEC"))
    name = short(name or lines[0].name)
    count = "a name is" if len(lines) == 1 else f"{len(lines)} names are"
    what = f"{count} of no spec here: {', '.join(said)}"
    remedy = (
        f"Nothing was written. Say --as '{name}={guess}', or leave it out with --skip '{name}'."
    )
    return BadInput(what, where=Where(file.path, lines[0].line), remedy=remedy)


def _too_little(short_of: Sequence[RanOut]) -> BadInput:
    said = ", ".join(
        f"{each.row.ingredient.key} ({each.poured / size:.0f} {unit} poured, "
        f"{(each.row.on_hand or 0.0) / size:.0f} there)"
        for each in short_of
        for size, unit in (each.row.ingredient.counted_in,)
    )
    remedy = "Nothing was written. Count them, or say --run-out to write that nothing is left."
    return BadInput(f"more was poured than the shelf knows of: {said}", remedy=remedy)


def _refuse_twice(file: SalesFile, log: StockLog) -> None:
    """Refuse a file whose sales were taken off before, and not undone.

    Raises:
        BadInput: it was, and that was not undone.
    """
    for entry in log.entries:
        if entry.file.endswith(f" {file.digest}") and not log.undone(entry.number):
            what = "these sales were taken off already"
            why = f"entry {entry.number} of {entry.day.isoformat()}"
            remedy = f"Undo that first (equipour stock undo {entry.number}), or say --again."
            raise BadInput(what, where=Where(file.path), why=why, remedy=remedy)
