"""A spec as a profile: the ranges it is held to, and what may fill its lines."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from solver.drinks.assess import Assessment
from solver.drinks.tops import tops_of
from solver.errors import BadInput
from solver.pantry.avoidance import Against, all_against
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Part, Profile
from solver.pantry.profile_sources import ProfileSource
from solver.pantry.targets import Target
from solver.requests.allowed_pours import ALWAYS_AT_HAND
from solver.requests.read_character import tastes_of
from solver.requests.request import Request
from solver.search.problem import PouredBefore
from solver.tasks.longer_drink import asks_longer
from solver.tasks.respec.held_ranges import HeldRanges, held_ranges
from solver.tasks.respec.similarity import Contributions, stand_ins, strangeness
from solver.tasks.respec.slots import ROUND, part_of, step_of
from solver.tasks.respec.substitutes import could_stand_in, made_of, on_hand, worth_with

MOST_FILLERS = 16
"""Ingredients that may stand in for one line, what somebody would rather pour first: our own
choice."""
FOLLOWS = {"ethanol": "abv", "sugar_total": "sugar"}
"""What is not held either, where something is asked of what follows from it."""
WATER = "water"
WATERED = frozenset({"abv", "ethanol", "volume"})
"""Measures that a splash of water is a way to move."""
THINNED = ("abv", "sugar", "acid")
"""Measures that more of a top lowers: in a drink that is made longer they may fall."""
SPLASH = "1..6 bar spoons"
"""How much of it, before the ice: common practice, no source."""
_UNITS = {"abv": "%", "sugar": " g/100ml", "acid": " g/100ml", "volume": " ml"}


class OwnProfile(Profile):
    """The profile that is derived from a spec."""

    @property
    def of_spec(self) -> bool:
        """True: it is derived from a spec."""
        return True


@dataclass(frozen=True)
class FillableLine:
    """Line `at` of the spec and its `fillers`: its own ingredient, then stand-ins by preference.

    `may_go` is true if the drink may be poured without it.
    """

    at: int
    line: Pour
    fillers: tuple[Ingredient, ...]
    may_go: bool = False


@dataclass(frozen=True)
class AsProfile:
    """A spec as a profile; `poured_before` are the pours from which changes are counted."""

    made: Assessment
    kept: HeldRanges
    profile: OwnProfile
    fillable_lines: tuple[FillableLine, ...]
    poured_before: Mapping[tuple[int, str], PouredBefore]


def as_profile(
    made: Assessment, bar: Bar, request: Request, *, size: float | None = None
) -> AsProfile:
    """The profile of a spec for a request; what is asked of a measure replaces the range it is held
    to.

    A line has stand-ins only if its own ingredient is not to be had, is avoided, or if a wanted
    ingredient can replace it. One other bottle is preferred to more changed pours. A drink with a
    top that is to be longer has more of that, and the rest as it is. With a `size`,
    every line is scaled by it, to within a step of its tool, and strength, sugar and acid are only
    aims.

    Raises:
        BadInput, BadInputs: something asked for can't be read or is not known; or the spec pours
            the same ingredient on two lines.
    """
    kept = held_ranges(made, bar)
    contributions = Contributions.to(made, kept)
    fillable_lines = _FillableLines(made, kept, contributions, bar, request).all()
    tops = tops_of(made.lines) if asks_longer(request) else ()
    parts = [_part(fillable, made, contributions, bar, size, tops) for fillable in fillable_lines]
    poured_before = {
        (index, item.key): _poured_before(item, rank, fillable, len(fillable_lines), bar)
        for index, fillable in enumerate(fillable_lines)
        for rank, item in enumerate(fillable.fillers)
    }
    held = _held(made, kept, THINNED if tops else ())
    limits = _limits(held, request) if size is None else ()
    if size is not None:
        del held["volume"]
    elif not tops and _may_be_watered(made, bar, request):
        poured_before[len(parts), WATER] = PouredBefore(0.0, bar.measures.bar_spoon_ml)
        parts.append(Part(name=WATER, ingredients=(WATER,), count=(0, 1), each=SPLASH))
    return AsProfile(
        made,
        kept,
        OwnProfile(
            name=made.spec.name,
            says="a spec of the bar",
            technique=made.technique,
            glass=None if kept.overfull else made.glass,
            garnish=made.spec.garnish,
            parts=tuple(parts),
            aims=tuple(held.values()),
            limits=limits,
            source=ProfileSource(basis="definition", text="what the bar approved"),
        ),
        fillable_lines,
        poured_before,
    )


def _may_be_watered(made: Assessment, bar: Bar, request: Request) -> bool:
    """Whether water may be added: for a weaker or longer drink of a kind that contains such water.

    Nobody waters a shaken sour.
    """
    water = bar.library.get(WATER)
    parts = made.profile.parts if made.profile else ()
    if water is None or not any(part.accepts(water) for part in parts):
        return False
    asked = {wish.measure.name for wish in request.ranged}
    moved = {
        step.measure for step in request.steps if (step.measure == "volume") == (step.sign > 0)
    }
    poured = {line.ingredient.key for line in made.lines}
    return WATER not in poured and not WATERED.isdisjoint(asked | moved)


def _limits(held: Mapping[str, Target], request: Request) -> tuple[Target, ...]:
    """The ranges that the drink is held to, except for measures that are asked about."""
    asked = _asked_about(request)
    asked |= {FOLLOWS[name] for name in asked & set(FOLLOWS)}
    return tuple(target for name, target in held.items() if name not in asked)


def _asked_about(request: Request) -> set[str]:
    """The measures that the request is about."""
    return {wish.measure.name for wish in request.ranged} | {s.measure for s in request.steps}


def _held(made: Assessment, kept: HeldRanges, falling: Collection[str]) -> dict[str, Target]:
    """The range of each measure around its reference, widened to the drink's present value; open
    below for what may fall."""
    found: dict[str, Target] = {}
    for aim in kept.aims:
        name = aim.measure.name
        now = made.values[name] or 0.0
        low, high = min(aim.value - aim.tolerance, now), max(aim.value + aim.tolerance, now)
        found[name] = _band(name, 0.0 if name in falling else low, high)
    return found


def _band(name: str, low: float, high: float) -> Target:
    return Target(measure=name, text=f"{max(0.0, low):.9f}..{high:.9f}{_UNITS[name]}")


@dataclass(frozen=True)
class _FillableLines:
    """Finds what may fill the lines of a spec."""

    made: Assessment
    kept: HeldRanges
    contributions: Contributions
    bar: Bar
    request: Request

    def all(self) -> tuple[FillableLine, ...]:
        """Each line with what may fill it."""
        keys = [line.ingredient.key for line in self.made.lines]
        for line in self.made.lines:
            if keys.count(line.ingredient.key) > 1:
                what = f"{self.made.spec.name} pours {line.ingredient.name} on two lines"
                raise BadInput(what, remedy="Write them as one, or ask for its profile.")
        words = self.request.avoided
        stocked = {row.ingredient.key for row in self.bar.stock if row.on_hand != 0}
        fillable_lines: list[FillableLine] = []
        for at, line in enumerate(self.made.lines):
            own = line.ingredient
            lost = own.key not in stocked or bool(all_against(self.bar.told_of(own), words))
            found = self._instead(line) if lost else ()
            fillers = dict.fromkeys((own, *self._wished(line), *found))
            same_unit = tuple(item for item in fillers if item.per == own.per)
            fillable_lines.append(
                FillableLine(at, line, same_unit, may_go=lost and own.tool in ALWAYS_AT_HAND)
            )
        return tuple(fillable_lines)

    def _wished(self, line: Pour) -> Sequence[Ingredient]:
        """The wanted ingredients that could fill a line."""
        asked = [self.bar.bottles.find(wish.key) for wish in self.request.wanted]
        loud = (wish.measure for wish in self.request.ranged if wish.span.high != 0)
        tags = {tag for each in (*self.request.character, *loud) for tag in each.tags}
        asked += [item for item in self._there if tastes_of(item, tags)]
        return stand_ins(line.ingredient, line.amount, asked, self.contributions)

    @cached_property
    def _there(self) -> tuple[Ingredient, ...]:
        return on_hand(self.made, self.bar)

    @cached_property
    def _worth(self) -> Callable[[Mapping[str, str]], float]:
        """The worth of the spec with stand-ins."""
        return worth_with(self.made, self.bar)

    def _instead(self, line: Pour) -> Sequence[Ingredient]:
        """The stand-ins of a line: what it is made of, then its own kind, then by worth with the
        rest.

        Ingredients of which a guest's question cannot be answered come last; they are reported, not
        poured.
        """
        words = self.request.avoided
        own = line.ingredient
        ranked: list[tuple[tuple[float, ...], Ingredient]] = []
        for item in could_stand_in(line, self.made, self.kept, self._there):
            against = all_against(self.bar.told_of(item), words)
            if against <= {Against.NOT_KNOWN}:
                fits = -self._worth({own.key: item.key})
                kinds = (not made_of(own, item, self.bar), item.kind != own.kind)
                ranked.append(((bool(against), *kinds, fits, strangeness(own, item)), item))
        ranked.sort(key=lambda each: each[0])
        return [item for _, item in ranked[:MOST_FILLERS]]


def _part(
    fillable: FillableLine,
    made: Assessment,
    contributions: Contributions,
    bar: Bar,
    size: float | None,
    tops: Sequence[Pour],
) -> Part:
    """The part of a line: the range of its profile, or half to twice its amount; if scaled, its
    share. With `tops`, one of them is no less, and what is no top is as it was."""
    line = fillable.line
    own, part = line.ingredient, part_of(line, made)
    low, high = line.amount / ROUND, line.amount * ROUND
    if part is not None and made.profile is not None:
        span = made.profile.part_pours(part, bar.measures).each
        if span.unit == own.per:
            low, high = min(span.low, line.amount), max(span.high, line.amount)
    if tops:
        low, high = line.amount, high if line in tops else line.amount
    if made.spec.pours[fillable.at].moves == "never":  # as the spec itself says
        low = high = line.amount
    for item in fillable.fillers[1:]:
        like = contributions.like_for_like(own, line.amount, item)
        if like is not None:
            low, high = min(low, like), max(high, like)
    if size is not None:
        step = step_of(own, bar)
        low, high = max(step, line.amount * size - step), line.amount * size + step
    return Part(
        name=own.name,
        ingredients=tuple(item.key for item in fillable.fillers),
        count=(0 if fillable.may_go else 1, 1),
        each=f"{low:.6f}..{high:.6f} {own.per}",
        tool=part.tool if part else None,
        stage="top" if line.top else "first",
    )


def _poured_before(
    item: Ingredient, rank: int, fillable: FillableLine, lines: int, bar: Bar
) -> PouredBefore:
    """The pour from which a change is counted; later fillers count more than all `lines`
    together."""
    amount = fillable.line.amount
    step = step_of(item, bar)
    if rank == 0:
        return PouredBefore(amount, step, same=True)
    return PouredBefore(amount, step, counts=1.0 + (rank - 1) * (lines + 1))
