"""What was sold and what it took off the shelf."""

from __future__ import annotations

from collections.abc import Iterator

from solver.printable import short
from solver.quantities import show_count, show_number
from solver.show.text.set_aside import another_recipe
from solver.show.text.stock import stock_amount
from solver.show.words.names_in_a_row import listed
from solver.tasks.stock.sales import RanOut, Sold


def sold_text(found: Sold, *, written: bool = True) -> str:
    """What was sold, what it took, and what is left; then what was not taken off, and why. Unless
    it is `written`, it says so."""
    if not found.drinks:
        lines = ["No drink was sold: nothing was written.", *_sold_remarks(found)]
        return "\n".join([*lines, *_read(found)])
    total = show_count(sum(drunk.number for drunk in found.drinks), "drink")
    lines = [f"{total} sold: {_drinks_words(found)}.", *_read(found)]
    lines += _batch_lines(found)
    rows = found.movement.rows if found.movement else ()
    if rows:
        lines += ["", f"  {'':<30}{'poured':>12}{'left':>12}"]
        for moved in rows:
            left = moved.row.on_hand or 0.0
            poured = stock_amount(found.poured[moved.key], moved.row)
            lines.append(f"  {moved.key[:29]:<30}{poured:>12}{stock_amount(left, moved.row):>12}")
        lines.append("")
    lines += _sold_remarks(found)
    if found.movement is None:
        lines.append("Nothing of it is on the shelf: nothing was written.")
    elif not written:
        lines.append("Nothing was written: without --dry-run it is.")
    else:
        number = found.movement.entry.number
        lines.append(f"Entry {number}: `equipour stock undo {number}` takes it back.")
    return "\n".join(lines)


def _read(found: Sold) -> list[str]:
    """The columns that were read, and what had a minus."""
    columns = found.file.columns
    words = {"drink": "drinks", "sold": "how many", "date": "the day"}
    quote = "'" if found.file.headed else ""
    said = [f"{quote}{short(head)}{quote} as {words[word]}" for word, head in columns.items()]
    bare = "" if found.file.headed else "No line has headings: "
    read = "Read" if found.file.headed else "read"
    lines = [f"{bare}{read} {listed(said)}."] if said else []
    if found.file.voided:
        lines.append(f"Taken back with a minus: {show_count(found.file.voided, 'drink')}.")
    return lines


def _batch_lines(found: Sold) -> list[str]:
    """What came out of batches."""
    lines = []
    for each in found.batches:
        if each.past is not None:
            lines.append(
                f"{each.key} is past its last day, {each.past.lots[-1].use_by}: taken from bottles."
            )
        elif each.another is not None:
            lines.append(f"{another_recipe(each.another)}: taken from bottles.")
        elif each.number:
            number = show_number(each.number)
            older = ", mixed by an older recipe" if each.older else ""
            of_each = f"{each.each_ml:.0f} mL each{older}"
            lines.append(f"{number} {each.spec.name} from {each.key}, {of_each}.")
    return lines


def _drinks_words(found: Sold) -> str:
    most = sorted(found.drinks, key=lambda drunk: -drunk.number)
    return listed(
        f"{show_number(drunk.number)} {drunk.spec.name if drunk.spec.origin else drunk.till}"
        for drunk in most
    )


def _sold_remarks(found: Sold) -> list[str]:
    lines = [_ran_out(each) for each in found.ran_out]
    if found.opened:
        lines.append(f"Open now: {listed(_opened(key, found) for key in found.opened)}.")
    if found.begun:
        lines.append(
            f"A new bottle was begun of {listed(found.begun)}. The shelf keeps the date of the one"
            f" before until `equipour stock open {found.begun[0]}`."
        )
    lines += _poured_at_a_wrong_time(found)
    if found.absent:
        lines.append(f"Not on the shelf, so nothing was taken: {listed(found.absent)}.")
    if found.uncounted:
        lines.append(f"Never counted, so nothing was taken: {listed(found.uncounted)}.")
    if found.pressed:
        lines.append(
            f"Beyond what was counted, taken as whole fruit or eggs: {listed(found.pressed)}."
        )
    if found.unweighed:
        lines.append(f"Garnish that nobody has weighed: {listed(found.unweighed)}.")
    if found.skipped:
        lines.append(f"Left out: {listed(line.name for line in found.skipped)}.")
    return lines


def _opened(key: str, found: Sold) -> str:
    """What is open, and until when to pour it: "a bottle of tonic-water, use by 2026-11-28"."""
    row = found.movement.after.row(key) if found.movement else None
    use_by = f" (use by {row.use_by.isoformat()})" if row and row.use_by else ""
    return f"a bottle of {key}{use_by}"


def _poured_at_a_wrong_time(found: Sold) -> Iterator[str]:
    """What was poured after its last day, and what before it was ready."""
    for row in found.past:
        if row.use_by is not None:
            last = row.use_by.isoformat()
            yield f"{row.ingredient.key} was poured past its last day, {last}: look at it."
    for row in found.early:
        if row.ready is not None:
            ready = row.ready.isoformat()
            yield f"{row.ingredient.key} was poured before it was ready on {ready}: look at it."


def _ran_out(each: RanOut) -> str:
    over = each.poured - (each.row.on_hand or 0.0)
    key = each.row.ingredient.key
    return f"{key} ran out: {stock_amount(over, each.row)} more were poured than the shelf knew of."
