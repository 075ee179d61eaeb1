"""The smallest change that brings a drink below a cost, within its present ranges."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from solver.clock import Clock
from solver.drinks.assess import Assessment, assess
from solver.measures import MEASURES
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.stocked import Stocked
from solver.search.milp.backend import Backend
from solver.search.problem import Limit
from solver.tasks.price.drink_cost import Cost, cost_of
from solver.tasks.price.unit_prices import UnitPrices
from solver.tasks.respec.held_ranges import HeldRanges, held_ranges
from solver.tasks.respec.rebalanced import Rebalanced
from solver.tasks.respec.repour import cheapest, nearest_within
from solver.tasks.respec.similarity import strangeness
from solver.tasks.respec.slots import Slot
from solver.tasks.respec.substitutes import could_stand_in, on_hand, worth_with


@dataclass(frozen=True)
class Cheaper:
    """The result, and its cost with everything that is added.

    `found` pours bottles of the same kinds, or if that is impossible (`other_kind`) one bottle of
    another kind that contributes the same; it is the most in keeping of `others` such bottles. None
    if both are proven impossible; then `least` is the cheapest drink of the same kinds within
    range, None if there is none.
    """

    most: float
    was: Cost
    found: Rebalanced | None
    cost: Cost | None
    least: Rebalanced | None = None
    least_cost: Cost | None = None
    others: int = 0

    @property
    def other_kind(self) -> bool:
        """Whether it pours a bottle of another kind."""
        return self.others > 0


def cheaper(
    cost: Cost, most: float, bar: Bar, prices: UnitPrices, backend: Backend, clock: Clock
) -> Cheaper:
    """The drink with the fewest changed pours, then the least change, that costs at most `most`.

    It stays within one noticeable difference of the present strength, sugar, acid and volume,
    whatever was approved. A pour may be of another bottle of the same kind; if that is not enough,
    one may be of any stand-in. Garnish and ice stay.

    Raises:
        BadInput, BadInputs: a recipe on the shelf is wrong.
        Unproven: the time was up.
    """
    priced = fully_priced(bar, prices)
    made = assess(cost.spec.model_copy(update={"approved": None}), priced)
    kept = held_ranges(made, priced)
    there = [item for item in on_hand(made, priced) if _price(priced, item.key) is not None]
    slots = _slots(made, kept, there)
    limit = Limit("cost", MEASURES["cost"], None, most - cost.beside_pours)

    def nearest(slots: Sequence[Slot]) -> Rebalanced | None:
        return nearest_within(slots, made, kept, (limit,), priced, backend, clock)

    found, others = None, 0
    if most > cost.beside_pours:
        found = nearest(slots)
        if found is None:
            found, others = _of_another_kind(slots, made, kept, there, priced, nearest)
    if found is not None and found.after is not None:
        then = cost_of(found.after.spec, bar, prices)
        return Cheaper(most, cost, found, then, others=others)
    least = cheapest(slots, made, kept, priced, backend, clock)
    after = least.after if least else None
    return Cheaper(
        most, cost, None, None, least, cost_of(after.spec, bar, prices) if after else None
    )


def _slots(made: Assessment, kept: HeldRanges, there: Sequence[Ingredient]) -> list[Slot]:
    """The lines, each with its ingredient and the stock of the same kind."""
    slots = []
    for at, line in enumerate(made.lines):
        alike = [item for item in there if item.kind == line.ingredient.kind]
        instead = could_stand_in(line, made, kept, alike)
        slots.append(Slot(at, line, (line.ingredient, *instead)))
    return slots


def _of_another_kind(
    slots: Sequence[Slot],
    made: Assessment,
    kept: HeldRanges,
    there: Sequence[Ingredient],
    priced: Bar,
    nearest: Callable[[Sequence[Slot]], Rebalanced | None],
) -> tuple[Rebalanced | None, int]:
    """The result with one line of another kind, most in keeping and then fewest changes, and the
    number of such bottles; None if proven impossible."""
    worth = worth_with(made, priced)
    found: list[tuple[tuple[float, ...], Rebalanced]] = []
    for slot in slots:
        own = slot.line.ingredient
        for item in could_stand_in(slot.line, made, kept, there):
            if item.kind == own.kind:
                continue
            other = replace(slot, fillers=(item,))
            result = nearest([other if each is slot else each for each in slots])
            if result is not None:
                rank = (-worth({own.key: item.key}), result.changed_pours, strangeness(own, item))
                found.append((rank, result))
    best = min(found, key=lambda each: each[0], default=None)
    return (best[1] if best else None), len(found)


def fully_priced(bar: Bar, prices: UnitPrices) -> Bar:
    """The bar with prices that include spillage, residue in bottles, and wages.

    So the search minimises the cost that is shown.
    """

    def full(row: Stocked) -> Stocked:
        price = prices.of(row.ingredient.key)
        spent = None if price is None else price.spent(bar.costing.waste)
        return replace(row, bottle=1.0, price=spent)

    return replace(bar, stock=tuple(map(full, bar.stock)), past=tuple(map(full, bar.past)))


def _price(bar: Bar, key: str) -> float | None:
    row = bar.stocked(key)
    return row.price_per_unit if row else None
