"""One syrup for several drinks: the strength at which the worst of them is closest to its aims.

The strengths are a stated grid. At every one, every drink is designed on its own pours from the
whole shelf; the claim is about that grid and nothing between its points.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from solver.errors import BadInput
from solver.kitchen.batch import acid_shares, brix, measured
from solver.mixture.numeric import Floats, root
from solver.mixture.sucrose import solubility_mass_pct
from solver.pantry.bar import Bar
from solver.pantry.checked import short
from solver.pantry.ingredient import Figure, Ingredient
from solver.pantry.profile import Profile
from solver.pantry.profile_files import find_profile, profile_files
from solver.quantities import parse_span
from solver.search.backend import Backend
from solver.search.loop import Ending
from solver.tasks.answer import Answer
from solver.tasks.design import design
from solver.tasks.prep.bottled import other_matter, rounded_shares
from solver.tasks.prep.carry import with_bottle
from solver.tasks.prep.prepare import Prep, find_recipe, prepare
from solver.tasks.prep.putting_in import gram_of
from solver.tasks.request import Request

WEAKEST: Final = 30
"""Brix of the weakest syrup that is tried unless another is asked for; a choice of ours."""
STORED_CELSIUS: Final = 4.0
LEAST_BRIX: Final = 5.0
MOST_BRIX: Final = 80.0
_MOST_TIMES: Final = 60.0
"""Times its own weight that sugar or water is added to a batch at most."""


@dataclass(frozen=True)
class Serving:
    """One profile at one strength: how far from its aims the closest drink is, and that drink.

    `off_aim` is that of the closest drink of all, which `answer` equals to within what nobody
    notices; infinite where the profile has no drink with the syrup at all.
    """

    profile: str
    off_aim: float
    answer: Answer | None
    proven: bool


@dataclass(frozen=True)
class Strength:
    """A syrup of some Brix, what it is, and what each profile makes of it."""

    brix: float
    ingredient: Ingredient
    servings: tuple[Serving, ...]

    @property
    def worst(self) -> float:
        """How far from its aims the worst of the drinks is, in noticeable differences."""
        return max(serving.off_aim for serving in self.servings)

    @property
    def total(self) -> float:
        """All distances together, to choose between strengths whose worst drinks are alike."""
        return sum(serving.off_aim for serving in self.servings)


@dataclass(frozen=True)
class Grid:
    """Strengths in Brix: from `low` to `high` in steps of `coarse`, the high end too; then in steps
    of `fine` up to one coarse step around the best of those.
    """

    low: float
    high: float
    coarse: float = 4.0
    fine: float = 1.0

    def first(self) -> tuple[float, ...]:
        """The coarse grid."""
        count = int((self.high - self.low) / self.coarse + 1e-9) + 1
        points = [self.low + k * self.coarse for k in range(count)]
        return tuple(dict.fromkeys([*points, self.high]))

    def around(self, best: float) -> tuple[float, ...]:
        """The fine grid around the best of the coarse one, without what was tried."""
        count, tried = round(self.coarse / self.fine), self.first()
        points = (best + k * self.fine for k in range(1 - count, count))
        return tuple(p for p in points if self.low <= p <= self.high and p not in tried)


@dataclass(frozen=True)
class Served:
    """Every strength of the grid, by its Brix, the best of them, and the batch as it is `now`."""

    prep: Prep
    profiles: tuple[str, ...]
    grid: Grid
    strengths: tuple[Strength, ...]
    best: Strength
    now: Strength

    @property
    def proven(self) -> bool:
        """Whether every drink on the grid is the proven closest."""
        every = (*self.strengths, self.now)
        return all(serving.proven for strength in every for serving in strength.servings)


def usual_grid(celsius: float = STORED_CELSIUS) -> Grid:
    """From a weak syrup to the strongest whole Brix that stays dissolved in the cold."""
    return Grid(float(WEAKEST), float(int(solubility_mass_pct(celsius))))


def read_grid(text: str | None, bar: Bar) -> Grid:
    """A range of strengths as written, "40..64 Brix"; the usual one where nothing is written.

    Raises:
        BadInput: it can't be read, or one end is missing.
    """
    if text is None:
        return usual_grid()
    span = parse_span(text, "brix", bar.measures)
    low = span.low if span.aim is None else span.aim
    high = span.high if span.aim is None else span.aim
    if low is None or high is None:
        what = f"'{short(text)}' leaves one end of the strengths open"
        raise BadInput(what, remedy="Give both, like 40..64 Brix.")
    if not LEAST_BRIX <= low <= high <= MOST_BRIX:
        what = f"'{short(text)}' are no strengths of a syrup"
        why = f"they lie between {LEAST_BRIX:g} and {MOST_BRIX:g} Brix"
        raise BadInput(what, why=why, remedy="Write them like 40..64 Brix.")
    return Grid(low, high)


def serve(
    name: str,
    profiles: Sequence[str],
    bar: Bar,
    today: date,
    backend: Backend,
    grid: Grid | None = None,
    seconds: float = 60.0,
) -> Served:
    """The strength of a house syrup that serves several profiles best, on a grid.

    Raises:
        BadInput, BadInputs: a profile or the recipe is not known, the recipe has alcohol or makes
            nothing sweet, or no strength on the grid serves all profiles.
    """
    files = profile_files(bar.profiles)
    targets = [find_profile(profile, files) for profile in profiles]
    prep = prepare(find_recipe(name, bar), bar, today)
    _check_sweet(prep)
    for target in targets:
        if not any(part.accepts(prep.ingredient) for part in target.parts):
            what = f"no part of {target.name} takes {prep.ingredient.name}"
            raise BadInput(what, remedy=f"See `equipour profiles {target.name}`.")
    chosen = grid or usual_grid()

    def tried(points: Sequence[float]) -> list[Strength]:
        return [_strength(prep, point, targets, bar, backend, seconds) for point in points]

    strengths = tried(chosen.first())
    strengths += tried(chosen.around(_best(strengths).brix))
    best = _best(strengths)
    if best.worst == float("inf"):
        what = "no strength on the grid serves all of these drinks"
        raise BadInput(what, remedy="Leave one out, or try it alone with --serve.")
    return Served(
        prep=prep,
        profiles=tuple(target.name for target in targets),
        grid=chosen,
        strengths=tuple(sorted(strengths, key=lambda s: s.brix)),
        best=best,
        now=_strength(prep, prep.figures.brix.value, targets, bar, backend, seconds),
    )


def _best(strengths: Sequence[Strength]) -> Strength:
    return min(strengths, key=lambda s: (round(s.worst, 6), round(s.total, 6), s.brix))


def _check_sweet(prep: Prep) -> None:
    if prep.figures.abv_pct.value > 0 or prep.figures.brix.value < 1:
        what = f"{prep.ingredient.name} has no strength in Brix to choose"
        raise BadInput(what, why="it has alcohol, or no sugar", remedy="Choose a syrup.")


def _strength(
    prep: Prep,
    point: float,
    targets: Sequence[Profile],
    bar: Bar,
    backend: Backend,
    seconds: float,
) -> Strength:
    ingredient = of_strength(prep, point, bar)
    served = with_bottle(bar, ingredient)
    request = Request(wanted=(ingredient.key,), seconds=seconds)
    servings: list[Serving] = []
    for target in targets:
        found = design(target, served, request, backend)
        if found.interrupted:
            raise KeyboardInterrupt
        answer = found.answer
        off = float("inf") if answer is None else found.bound
        proven = found.ending is not Ending.STOPPED
        if not proven and answer is not None:
            off = answer.off_aim
        servings.append(Serving(target.name, off, answer, proven))
    return Strength(point, ingredient, tuple(servings))


def of_strength(prep: Prep, point: float, bar: Bar) -> Ingredient:
    """The batch thinned with water, or sweetened with sugar, to so many Brix, as an ingredient."""
    more = "water" if point < prep.figures.brix.value else "white-sugar"
    batch = _mixed(prep.batch, gram_of(bar.bottles.find(more)), point)
    done = measured(batch)
    source = f"its batch brought to {point:g} Brix with {more.replace('-', ' ')}"

    def figure(value: float, digits: int) -> Figure:
        return Figure(value=round(value, digits), basis="computed", source=source)

    acid = round(float(done.acid_g_100ml), 3)
    return prep.ingredient.model_copy(
        update={
            "sugar": figure(float(done.sugar_g_100ml), 2),
            "acid": figure(acid, 3),
            "acids": rounded_shares(acid_shares(batch)) if acid > 0 else {},
            "density": figure(float(done.density_g_ml), 4),
            "other": other_matter(batch, source),
        }
    )


def _mixed(start: Floats, gram: Floats, point: float) -> Floats:
    own = float(brix(start))
    sign = 1.0 if float(brix(gram)) > own else -1.0

    def over(grams: float) -> float:
        return sign * (float(brix(start + grams * gram)) - point)

    if over(0.0) >= 0:
        return start
    most = _MOST_TIMES * float(np.sum(start))
    if over(most) <= 0:
        what = f"the batch cannot be brought to {point:g} Brix"
        raise BadInput(what, remedy="Choose a narrower grid.")
    return start + root(over, 0.0, most) * gram


def read_names(text: str) -> tuple[str, ...]:
    """Names of profiles with commas between them.

    Raises:
        BadInput: there is none.
    """
    names = tuple(filter(None, (name.strip() for name in text.split(","))))
    if not names:
        what = f"'{short(text)}' names no profiles"
        raise BadInput(what, remedy="Write them like sour,old-fashioned,hot-coffee.")
    return tuple(dict.fromkeys(names))
