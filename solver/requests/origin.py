"""Who asks for something: a profile, the user, a glass, the shelf, the pour set of the bar."""

from __future__ import annotations

import enum
from dataclasses import dataclass

from solver.pantry.profile import Profile


@enum.unique
class From(enum.Enum):
    """What something that is asked of a drink comes from."""

    PROFILE = "profile"
    SPEC = "spec"
    """What a drink is held to that somebody orders otherwise."""
    REQUEST = "request"
    DRINKS = "standard drinks"
    """A request that is put in standard drinks."""
    COMPARISON = "comparison"
    """A request that compares, such as a step drier."""
    WORD = "word"
    """A word of the bar's, such as autumn."""
    GLASS = "glass"
    SHELF = "shelf"
    POUR_SET = "pour set"


@dataclass(frozen=True)
class Origin:
    """Who asks; `of` is the name of the profile, spec, word or glass, or what the user says."""

    kind: From
    of: str = ""

    @property
    def says(self) -> str:
        """It in the user's words: "profile sour", "as asked: 1 step drier", "the shelf"."""
        return {
            From.PROFILE: f"profile {self.of}",
            From.SPEC: f"held to {self.of}",
            From.REQUEST: "as asked",
            From.DRINKS: f"as asked: {self.of}",
            From.COMPARISON: f"as asked: {self.of}",
            From.WORD: f"the word {self.of}",
            From.GLASS: f"glass: {self.of}",
            From.SHELF: "the shelf",
            From.POUR_SET: "the bar",
        }[self.kind]

    @property
    def short(self) -> str:
        """It as a word beside others of the same drink, whose profile is known: "profile"."""
        return self.kind.value if self.kind in {From.PROFILE, From.REQUEST} else self.says


ASKED = Origin(From.REQUEST)


def origin_of(profile: Profile) -> Origin:
    """Whose demands those of a profile are."""
    return Origin(From.SPEC if profile.of_spec else From.PROFILE, profile.name)
