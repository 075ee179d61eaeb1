"""The shelf, the ingredients and the profiles, for people and for programs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.figure import Figure
from solver.pantry.ingredient import Ingredient
from solver.pantry.profile import Part, Profile
from solver.pantry.stocked import Stocked
from solver.quantities import PourSpan, show_number, split_count
from solver.quantities.units import find_unit
from solver.show.contract import document
from solver.show.guest import day_line, told_fields
from solver.show.limits import span_words
from solver.show.pours import said_pours
from solver.show.table import Cell, csv_table


def ingredients_text(found: Sequence[Ingredient]) -> str:
    """One line for each ingredient."""
    return "\n".join(f"{item.key:<32} {item.name}" for item in found)


def profiles_text(found: Sequence[Profile]) -> str:
    """One line for each profile."""
    return "\n".join(f"{profile.name:<20} {profile.says}" for profile in found)


def ingredient_text(ingredient: Ingredient, bar: Bar) -> str:
    """An ingredient, its figures, where they come from, and what a guest is told of it."""
    lines = [f"{ingredient.name}  [{ingredient.key}]", f"  kind       {ingredient.kind}"]
    share = f"g/100 {ingredient.unit}"
    figures = (
        ("abv", ingredient.abv, "% vol"),
        ("sugar", ingredient.sugar, share),
        ("acid", ingredient.acid, share),
        ("water", ingredient.moisture, share),
        ("solids", ingredient.insoluble, share),
        ("density", ingredient.density, "g/mL"),
        ("bulk", ingredient.bulk, "g/mL"),
        ("keeps", ingredient.life, "days"),
    )
    for name, figure, unit in figures:
        if figure is not None:
            unit = "day" if name == "keeps" and figure.value == 1 else unit
            lines.append(f"  {name:<9}{figure.value:>7g} {unit}  ({figure.basis}: {figure.source})")
    told = bar.told_of(ingredient)
    lines.append(f"  allergens  {_stated(told.allergens, told.allergens_not_known)}")
    if told.may_contain:
        lines.append(f"  may hold   {', '.join(sorted(told.may_contain))}")
    lines.append(f"  animal     {_stated(told.animal, told.animal_not_known)}")
    if told.may_animal:
        lines.append(f"  may hold   {', '.join(sorted(told.may_animal))}")
    if told.declare:
        lines.append(f"  declare    {', '.join(sorted(told.declare))}")
    lines += [f"  caution    {caution}" for caution in (*told.cautions, *told.kitchen_cautions)]
    return "\n".join(lines)


def _stated(words: frozenset[str], not_known: tuple[str, ...]) -> str:
    """What is stated, and of which ingredients nothing is."""
    said = ", ".join(sorted(words))
    if not_known:
        return f"{said}; not known of {', '.join(not_known)}" if said else "not known"
    return said or "none stated"


def shelf_text(bar: Bar) -> str:
    """What the bar has: one line for each bottle."""
    lines = [
        *_without_shelf(bar),
        f"{'':<26}{'% vol':>6}{'sugar':>6}{'acid':>6}{'on hand':>15}{'price':>8}{'use by':>11}",
        f"{'':<29}{'g/100 mL (or g)':>15}{bar.currency:>23}",
    ]
    for stocked in bar.listed:
        item = stocked.ingredient
        price = "" if stocked.price is None else f"{stocked.price:.2f}"
        use_by = "" if stocked.use_by is None else stocked.use_by.isoformat()
        past = "  past: not poured" if stocked.past(bar.today) else ""
        label = f"  {stocked.label}" if stocked.label else ""
        lines.append(
            f"{item.key[:25]:<26}{item.abv.value:>6.1f}{item.sugar.value:>6.1f}"
            f" {item.acid.value:>5.2f} {_on_hand(stocked, bar):>14} {price:>7}{use_by:>11}"
            f"{past}{label}"
        )
    lines += ["", *day_line(bar)]
    return "\n".join(line.rstrip() for line in lines).rstrip()


def _on_hand(stocked: Stocked, bar: Bar) -> str:
    """What is there, in what it is bought in: "1.5 x 700 mL", "20 pieces", else "400 mL".

    "? x 700 mL" where nobody counts it; a bottle of so many ounces is one of those: "2 x 25.4 oz".
    """
    unit, size, there = stocked.ingredient.unit, stocked.bottle, stocked.on_hand
    if not size:
        return "" if there is None else f"{show_number(there, 0)} {unit}"
    row = bar.shelf.row(stocked.ingredient.key) if bar.shelf else None
    loose = bar.shelf is not None and row is not None and _in_pieces(bar.shelf.cells(row))
    count = "?" if there is None else show_number(there / size, 2)
    if loose:
        return f"{count} piece{'' if count == '1' else 's'}"
    ounces = _in_ounces(bar.shelf.cells(row)) if bar.shelf is not None and row is not None else ""
    return f"{count} x {ounces or f'{show_number(size, 0)} {unit}'}"


def _in_ounces(cells: Mapping[str, str]) -> str:
    """The size of a bottle as its row says it, where that is in ounces."""
    taken = split_count(cells.get("bottle", ""))
    unit = find_unit(taken[1]) if taken else None
    of_ounces = unit is not None and unit.name in ("ounce", "fluid_ounce")
    return f"{taken[0]} oz" if taken and of_ounces else ""


def _in_pieces(cells: Mapping[str, str]) -> bool:
    """Whether a row of the shelf counts what is loose, as limes are."""
    return "piece" in cells.get("bottle", "")


def _without_shelf(bar: Bar) -> list[str]:
    """What to know where nobody has said what is on the shelf."""
    if bar.shelf is not None:
        return []
    what = "There is no bar here" if bar.root is None else "This bar has no shelf.csv"
    how = "equipour init" if bar.root is None else "equipour shelf add"
    return [f"{what}: below is all that the library knows. To have your own: {how}", ""]


def profile_text(profile: Profile, bar: Bar) -> str:
    """A profile as its file has it, its pours in the bar's unit: parts, aims, limits, source.

    Raises:
        BadInput, BadInputs: a pour can't be read.
    """
    lines = [f"{profile.name}: {profile.says}"]
    if profile.aliases:
        lines.append(f"  also called {', '.join(profile.aliases)}")
    lines.append(f"  {profile.technique}, glass: {profile.glass or 'any'}")
    for part in profile.parts:
        least, most = part.count
        count = str(least) if least == most else f"{least} to {most}"
        what = ", ".join((*part.kinds, *part.ingredients))
        each = said_pours(profile.part_pours(part, bar.measures).each, bar) if part.each else ""
        lines.append(f"  {part.name:<11}{count:<9}{each:<18}{what}")
    targets = profile.targets(bar.measures, bar.currency)
    for title, several in (("aim", targets.aims), ("limit", targets.limits)):
        for target in several:
            measure = MEASURES[target.measure]
            numbers = span_words(measure, target.low, target.high)
            unit = measure.unit_in(bar.currency)
            lines.append(f"  {title:<11}{measure.label:<11}{numbers} {unit}".rstrip())
    lines.append(f"  {profile.source.basis}: {profile.source.text}")
    return "\n".join(lines)


def shelf_csv(bar: Bar) -> str:
    """The shelf as a table; figures of 100 of the ingredient's own unit."""
    heads = ("ingredient", "name", "kind", "unit", *_HEADS, "bottle", "price", "currency",
             "on_hand", "opened", "use_by", "past", "note")  # fmt: skip
    return csv_table(
        heads,
        (
            (
                *_named(row.ingredient),
                row.bottle,
                row.price,
                bar.currency,
                row.on_hand,
                row.opened.isoformat() if row.opened else None,
                row.use_by.isoformat() if row.use_by else None,
                row.past(bar.today),
                row.note,
            )
            for row in bar.listed
        ),
    )


def ingredients_csv(found: Sequence[Ingredient], bar: Bar) -> str:
    """Ingredients as a table, with its allergens, and with the sources of its figures."""
    heads = ("ingredient", "name", "kind", "unit", *_HEADS, "allergens", "may_contain",
             "allergens_not_known", *(f"{name}_source" for name in _FIGURES))  # fmt: skip
    return csv_table(
        heads,
        (
            (
                *_named(item),
                ", ".join(sorted(told.allergens)),
                ", ".join(sorted(told.may_contain)),
                ", ".join(told.allergens_not_known),
                *(f"{f.basis}: {f.source}" for f in (item.abv, item.sugar, item.acid)),
            )
            for item in found
            for told in (bar.told_of(item),)
        ),
    )


_HEADS = ("abv_pct", "sugar_g_per_100", "acid_g_per_100")


def _named(item: Ingredient) -> tuple[Cell, ...]:
    """What every table says of an ingredient first."""
    figures = (item.abv.value, item.sugar.value, item.acid.value)
    return (item.key, item.name, item.kind, item.per, *figures)


def profiles_csv(found: Sequence[Profile], bar: Bar) -> str:
    """Profiles as a table: what they aim for and must keep, both ends of each measure.

    Raises:
        BadInput, BadInputs: a profile can't be read.
    """
    rows: list[tuple[Cell, ...]] = []
    for profile in found:
        targets = profile.targets(bar.measures, bar.currency)
        aims = {t.measure: (t.low, t.high) for t in targets.aims}
        limits = {t.measure: (t.low, t.high) for t in targets.limits}
        bands: list[Cell] = []
        for name in _BANDS:
            bands += [*aims.get(name, (None, None)), *limits.get(name, (None, None))]
        rows.append((profile.name, profile.says, profile.technique, profile.glass, *bands,
                     f"{profile.source.basis}: {profile.source.text}"))  # fmt: skip
    heads = [
        f"{MEASURES[name].key}_{end}"
        for name in _BANDS
        for end in ("aim_low", "aim_high", "limit_low", "limit_high")
    ]
    return csv_table(("profile", "says", "technique", "glass", *heads, "source"), rows)


_BANDS = ("abv", "sugar", "acid", "volume")


def shelf_json(bar: Bar) -> str:
    """The document of the shelf."""
    fields = {
        "bar": bar.name,
        "currency": bar.currency,
        "today": bar.today.isoformat(),
        "bottles": [bottle_fields(stocked, bar) for stocked in bar.listed],
    }
    return document("shelf", fields)


def bottle_fields(stocked: Stocked, bar: Bar) -> dict[str, Any]:
    """A bottle of the shelf, as numbers with their unit."""
    item = stocked.ingredient
    return {
        "ingredient": item.key,
        "name": item.name,
        "kind": item.kind,
        **{_figure_key(name, item): getattr(item, name).value for name in _FIGURES},
        f"bottle_{item.per}": stocked.bottle,
        "price": stocked.price,
        f"on_hand_{item.per}": stocked.on_hand,
        "opened": stocked.opened.isoformat() if stocked.opened else None,
        "use_by": stocked.use_by.isoformat() if stocked.use_by else None,
        "past": stocked.past(bar.today),
        "note": stocked.note,
    }


_FIGURES = ("abv", "sugar", "acid")


def _figure_key(name: str, item: Ingredient) -> str:
    return "abv_pct" if name == "abv" else f"{name}_g_100{item.per}"


def ingredients_json(found: Sequence[Ingredient], bar: Bar) -> str:
    """The document of some ingredients; every figure with where it comes from."""
    return document("ingredients", {"ingredients": [_ingredient(item, bar) for item in found]})


def _ingredient(item: Ingredient, bar: Bar) -> dict[str, Any]:
    told = bar.told_of(item)
    return {
        "ingredient": item.key,
        "name": item.name,
        "aliases": list(item.aliases),
        "kind": item.kind,
        "character": list(item.character),
        **{_figure_key(name, item): _figure(getattr(item, name)) for name in _FIGURES},
        f"other_g_100{item.per}": _figure(item.other),
        f"moisture_g_100{item.per}": _figure(item.moisture),
        f"insoluble_g_100{item.per}": _figure(item.insoluble),
        "bulk_g_ml": _figure(item.bulk),
        "acids": dict(item.acids),
        "density_g_ml": _figure(item.density),
        "life_days": _figure(item.life),
        "piece_ml": _figure(item.piece if item.per == "ml" else None),
        "piece_g": _figure(item.piece if item.per == "g" else None),
        "tool": item.tool,
        **told_fields(told),
        "cautions": list(told.cautions),
        "kitchen_cautions": list(told.kitchen_cautions),
        "holds": sorted(told.holds - {item.key}),
        "contents_known": bar.avoidable.contents_known(item),
        "note": item.note,
    }


def _figure(figure: Figure | None) -> dict[str, Any] | None:
    return figure.model_dump() if figure else None


def profiles_json(found: Sequence[Profile], bar: Bar) -> str:
    """The document of some profiles, as numbers in the measures of the bar.

    Raises:
        BadInput, BadInputs: a profile can't be read.
    """
    return document("profiles", {"profiles": [_profile(profile, bar) for profile in found]})


def _profile(profile: Profile, bar: Bar) -> dict[str, Any]:
    targets = profile.targets(bar.measures, bar.currency)
    return {
        "name": profile.name,
        "aliases": list(profile.aliases),
        "says": profile.says,
        "inherits": profile.inherits,
        "technique": profile.technique,
        "glass": profile.glass,
        "garnish": profile.garnish,
        "parts": [_part(part, profile, bar) for part in profile.parts],
        "aims": [
            {
                "measure": t.measure,
                "unit": MEASURES[t.measure].unit,
                "low": t.low,
                "high": t.high,
            }
            for t in targets.aims
        ],
        "limits": [
            {"measure": t.measure, "unit": MEASURES[t.measure].unit, "low": t.low, "high": t.high}
            for t in targets.limits
        ],
        "source": {"basis": profile.source.basis, "text": profile.source.text},
    }


def _part(part: Part, profile: Profile, bar: Bar) -> dict[str, Any]:
    pours = profile.part_pours(part, bar.measures)
    return {
        "part": part.name,
        "kinds": list(part.kinds),
        "ingredients": list(part.ingredients),
        "not_kinds": list(part.not_kinds),
        "not_ingredients": list(part.not_ingredients),
        "count": {"low": part.count[0], "high": part.count[1]},
        "each": _span(pours.each) if part.each else None,
        "total": _span(pours.total) if pours.total else None,
        "tool": part.tool,
        "stage": part.stage,
    }


def _span(span: PourSpan) -> dict[str, Any]:
    return {"low": span.low, "high": span.high, "unit": span.unit.value}
