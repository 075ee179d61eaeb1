"""What is asked of a drink, one named demand at a time.

A profile, a request, a glass, a shelf and a jigger each demand something. Every demand can be
dropped while the others stay: that is what tells whether it matters, and what it costs.
"""

from __future__ import annotations

import enum
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from solver.measures import Measure
from solver.pantry.avoidance import Avoidance
from solver.pantry.bar import Bar
from solver.pantry.profile import Part, PartPours, Profile
from solver.quantities import PourSpan, show_pours
from solver.requests.origin import ASKED, From, Origin, origin_of
from solver.requests.request import (
    Bound,
    IngredientWish,
    Request,
    finer_bar,
)
from solver.search.problem import Limit


@enum.unique
class DemandKind(enum.Enum):
    """What a demand is about."""

    LEAST = "least"
    """A measure may not be lower."""
    MOST = "most"
    """A measure may not be higher."""
    WITH = "with"
    POUR = "pour"
    """How much of a wanted ingredient."""
    SHOWN = "shown"
    """No less of an ingredient than is usual."""
    CHARACTER = "character"
    WITHOUT = "without"
    NO_CHARACTER = "no character"
    STOCK = "stock"
    """No more than is left on the shelf, for all serves together."""
    JIGGER = "jigger"
    """Only amounts that the pour set can measure."""
    COUNT = "count"
    """How many ingredients fill a part."""
    POURS = "pours"
    """How much of an ingredient fills a part."""


STRUCTURE = frozenset({DemandKind.JIGGER, DemandKind.COUNT, DemandKind.POURS})
"""What makes a profile and a bar what they are: dropped only to see whether it is to blame."""


@dataclass(frozen=True)
class Demand:
    """One thing that a drink must keep.

    `origin` says whose demand it is; `says` states it in the user's words, and together they are
    its name. `measure` and `bound` belong to LEAST and MOST; `subject` is the ingredient, the
    character or the part that others are about; `tags` belong to CHARACTER, any of which will do,
    `span` to POUR, `avoids` to WITHOUT and NO_CHARACTER.
    """

    kind: DemandKind
    origin: Origin
    says: str
    measure: Measure | None = None
    bound: float = 0.0
    subject: str = ""
    tags: tuple[str, ...] = ()
    span: PourSpan | None = None
    avoids: Avoidance | None = None

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Sets of demands are compared by the thousand: each is hashed once."""
        return hash((self.name, self.measure and self.measure.name, self.bound, self.subject))

    @cached_property
    def name(self) -> str:
        """What tells it from all others of the same request."""
        return f"{self.says} ({self.origin.says})"

    @property
    def limit(self) -> Limit | None:
        """The demand as a limit of the search; None if it is not about a measure."""
        if self.measure is None:
            return None
        low = self.bound if self.kind is DemandKind.LEAST else None
        high = self.bound if self.kind is DemandKind.MOST else None
        return Limit(self.name, self.measure, low, high)


def bounds_of(bounds: Iterable[Bound], bar: Bar) -> list[Demand]:
    """What bounds on measures demand, each end by itself."""
    return [demand for bound in bounds for demand in _sides(bound, bar)]


def _sides(bound: Bound, bar: Bar) -> list[Demand]:
    """The two ends of a limit, as far as they ask for anything."""
    measure, origin = bound.measure, bound.origin
    found: list[Demand] = []
    for kind, end in ((DemandKind.LEAST, bound.low), (DemandKind.MOST, bound.high)):
        if end is not None and (kind is DemandKind.MOST or end > 0):
            amount = measure.amount(end, bar.currency)
            none = measure.tags and end == 0
            says = f"no {measure.label}" if none else f"{measure.label} at {kind.value} {amount}"
            found.append(Demand(kind, origin, says, measure, end))
    return found


def wishes_of(request: Request, bar: Bar) -> list[Demand]:
    """What a request wants in a drink, and what it wants left out."""
    return [
        *(demand for wish in request.wanted for demand in _wanted(wish, bar)),
        *(demand for key in request.feature for demand in _shown(key, bar, request)),
        *(
            Demand(
                DemandKind.CHARACTER,
                ASKED,
                f"something with {each.label}",
                subject=each.label,
                tags=each.tags,
            )
            for each in request.character
        ),
        *(
            Demand(DemandKind.WITHOUT, ASKED, _without(word), subject=word.word, avoids=word)
            for word in request.unwanted
        ),
        *(
            Demand(
                DemandKind.NO_CHARACTER,
                ASKED,
                f"nothing with {tag.word}",
                subject=tag.word,
                avoids=tag,
            )
            for tag in request.no_character
        ),
    ]


def _wanted(wish: IngredientWish, bar: Bar) -> list[Demand]:
    """A wish for an ingredient, and one for how much of it."""
    item = bar.bottles.find(wish.key)
    name = item.name
    found = [Demand(DemandKind.WITH, ASKED, f"with {name}", subject=wish.key)]
    if wish.span is not None:
        says = f"{wish.span.said} of {name}"
        if item.tool == "jigger" == (wish.span.tool or "jigger") and not bar.pour_set.amounts_of(
            item, wish.span, bar.measures, fine=True
        ):
            says += f", which is no pour of {bar.pour_set.says}"
        found.append(Demand(DemandKind.POUR, ASKED, says, subject=wish.key, span=wish.span))
    return found


def _shown(key: str, bar: Bar, request: Request) -> list[Demand]:
    """A wish to show an ingredient: it is there, and no less of it than is usual, unless somebody
    asks for an amount."""
    name = bar.bottles.find(key).name
    found = [Demand(DemandKind.WITH, ASKED, f"with {name}", subject=key)]
    if all(wish.key != key or wish.span is None for wish in request.wanted):
        says = f"as much {name} as is usual, or more"
        found.append(Demand(DemandKind.SHOWN, ASKED, says, subject=key))
    return found


def _without(word: Avoidance) -> str:
    if word.way:
        return f"for a guest who is {word.way}"
    return f"without {word.thing or word.word}"


def stock_of(request: Request) -> Demand:
    """That the shelf is enough for all serves of a request."""
    serves = "one serve" if request.serves == 1 else f"{request.serves} serves"
    says = f"no more than is left for {serves}"
    return Demand(DemandKind.STOCK, Origin(From.SHELF), says)


def structure_of(profile: Profile, pours: Sequence[PartPours], bar: Bar) -> list[Demand]:
    """What makes a drink one of the profile, and one of the bar: counts, pours and the jigger.

    `pours` are those of each part of the profile.
    """
    return [*_parts(profile, pours, bar), *_jigger(bar)]


def _parts(profile: Profile, pours: Sequence[PartPours], bar: Bar) -> list[Demand]:
    origin = origin_of(profile)
    found: list[Demand] = []
    for part, amounts in zip(profile.parts, pours, strict=True):
        found.append(Demand(DemandKind.COUNT, origin, _counted(part), subject=part.name))
        if part.count[1]:
            said = f"{show_pours(amounts.each, bar.show, bar.measures)} of each {part.name}"
            found.append(Demand(DemandKind.POURS, origin, said, subject=part.name))
    return found


def _counted(part: Part) -> str:
    least, most = part.count
    if least == most:
        return f"{'one' if least == 1 else least} {part.name}"
    if least == 0:
        return f"at most {'one' if most == 1 else most} {part.name}"
    return f"{least} to {most} of the {part.name}"


def _jigger(bar: Bar) -> list[Demand]:
    """The pour set, where there is a finer one."""
    return (
        [Demand(DemandKind.JIGGER, Origin(From.POUR_SET), bar.pour_set.says)]
        if finer_bar(bar)
        else []
    )
