"""A spec as a profile of its own: what it must stay in the glass, and what may fill its lines."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from solver.drinks.assess import Assessment
from solver.errors import BadInput
from solver.pantry.avoidance import Against, all_against
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.profile import Part, Profile
from solver.pantry.profile_sources import ProfileSource
from solver.pantry.targets import Target
from solver.requests.allowed_pours import COUNTED
from solver.requests.characters import tastes_of
from solver.requests.request import Request
from solver.search.problem import Former
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
SPLASH = "1..6 bar spoons"
"""How much of it, before the ice: common practice, no source."""
_UNITS = {"abv": "%", "sugar": " g/100ml", "acid": " g/100ml", "volume": " ml"}


class OwnProfile(Profile):
    """The profile that a spec is by itself."""

    @property
    def of_spec(self) -> bool:
        """That it is one."""
        return True


@dataclass(frozen=True)
class FillableLine:
    """A line of the spec, the `at`-th, and what may fill it: itself, then what may stand in.

    What stands in is in the order in which somebody would rather pour it. `may_go` says that the
    drink may be without.
    """

    at: int
    line: Pour
    fillers: tuple[Ingredient, ...]
    may_go: bool = False


@dataclass(frozen=True)
class AsProfile:
    """A spec as a profile; `formers` are what changes of its pours are counted from."""

    made: Assessment
    kept: HeldRanges
    profile: OwnProfile
    fillable_lines: tuple[FillableLine, ...]
    formers: Mapping[tuple[int, str], Former]


def as_profile(
    made: Assessment, bar: Bar, request: Request, *, size: float | None = None
) -> AsProfile:
    """The profile that a spec is for a request: what that asks of a measure takes the place of what
    the spec is held to.

    Something stands in for a line only where its own ingredient is not to be had or is avoided, or
    where somebody asks for something that can. Somebody would rather pour another bottle than
    change more pours. With a `size` it is the same drink so
    many times as large: every line is poured a step of its tool about its own share, and strength,
    sugar and acid are only aims.

    Raises:
        BadInput, BadInputs: something asked for can't be read or is not known; or the spec pours
            the same ingredient on two lines.
    """
    kept = held_ranges(made, bar)
    contributions = Contributions.to(made, kept)
    fillable_lines = _FillableLines(made, kept, contributions, bar, request).all()
    parts = [_part(fillable, made, contributions, bar, size) for fillable in fillable_lines]
    formers = {
        (index, item.key): _former(item, rank, fillable, len(fillable_lines), bar)
        for index, fillable in enumerate(fillable_lines)
        for rank, item in enumerate(fillable.fillers)
    }
    held = _held(made, kept)
    limits = _limits(held, request) if size is None else ()
    if size is not None:
        del held["volume"]
    elif _may_be_watered(made, bar, request):
        formers[len(parts), WATER] = Former(0.0, bar.measures.bar_spoon_ml)
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
        formers,
    )


def _may_be_watered(made: Assessment, bar: Bar, request: Request) -> bool:
    """Whether a splash of water is a way to what is asked: it is, to something weaker or longer,
    in a drink of which such water is a part. Nobody waters a shaken sour.
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
    """What the drink is held to: what it was, but for what is asked about."""
    asked = _asked_about(request)
    asked |= {FOLLOWS[name] for name in asked & set(FOLLOWS)}
    return tuple(target for name, target in held.items() if name not in asked)


def _asked_about(request: Request) -> set[str]:
    """The measures that something is asked of."""
    return {wish.measure.name for wish in request.ranged} | {s.measure for s in request.steps}


def _held(made: Assessment, kept: HeldRanges) -> dict[str, Target]:
    """What the drink was, by measure; where it is further from that by now, no further than so."""
    found: dict[str, Target] = {}
    for aim in kept.aims:
        name = aim.measure.name
        now = made.values[name] or 0.0
        low, high = min(aim.value - aim.tolerance, now), max(aim.value + aim.tolerance, now)
        found[name] = _band(name, low, high)
    return found


def _band(name: str, low: float, high: float) -> Target:
    return Target(measure=name, text=f"{max(0.0, low):.9f}..{high:.9f}{_UNITS[name]}")


@dataclass(frozen=True)
class _FillableLines:
    """What may fill the lines of a spec."""

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
                FillableLine(at, line, same_unit, may_go=lost and own.tool in COUNTED)
            )
        return tuple(fillable_lines)

    def _wished(self, line: Pour) -> Sequence[Ingredient]:
        """What is asked for and could be poured there."""
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
        """How much in keeping the spec is with what stands in."""
        return worth_with(self.made, self.bar)

    def _instead(self, line: Pour) -> Sequence[Ingredient]:
        """What could stand in: what it is made of first, its own kind, then what is most in keeping
        with the rest.

        What nobody can tell a guest about comes last; it is not poured, but told of.
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
) -> Part:
    """The part of a line: as much as its profile has there, or else from half to twice as much; of
    another size, about its share."""
    line = fillable.line
    own, part = line.ingredient, part_of(line, made)
    low, high = line.amount / ROUND, line.amount * ROUND
    if part is not None and made.profile is not None:
        span = made.profile.part_pours(part, bar.measures).each
        if span.unit == own.per:
            low, high = min(span.low, line.amount), max(span.high, line.amount)
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


def _former(item: Ingredient, rank: int, fillable: FillableLine, lines: int, bar: Bar) -> Former:
    """What a pour is counted from; what fills a line later counts more than all `lines`."""
    amount = fillable.line.amount
    step = step_of(item, bar)
    if rank == 0:
        return Former(amount, step, same=True)
    return Former(amount, step, counts=1.0 + (rank - 1) * (lines + 1))
