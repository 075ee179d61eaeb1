"""What a plan has to tell: of the drinks to their guests, of what is made to whoever makes it."""

from __future__ import annotations

from dataclasses import dataclass

from solver.drinks.guest_notice import ForGuest
from solver.pantry.disclosure import Disclosure


@dataclass(frozen=True)
class WashFirst:
    """What was in the vessel before, and its allergens that do not belong into what comes next."""

    name: str
    allergens: tuple[str, ...]


@dataclass(frozen=True)
class JobNotice:
    """What something that is made is to a guest, and what its vessel has to be washed of.

    `hazards` are those of how it keeps, as `tasks.prep.shelf_life` words them.
    """

    told: Disclosure
    wash: WashFirst | None = None
    hazards: tuple[str, ...] = ()


@dataclass(frozen=True)
class PlanNotice:
    """The notices of the drinks that are poured, by name, and of the jobs, in their order."""

    drinks: tuple[tuple[str, ForGuest], ...] = ()
    jobs: tuple[JobNotice, ...] = ()
