"""What the physics cannot do.

    ValueError
    ├── ImpossibleLabel   no mixture has these figures together
    └── UnknownAcid       no acid has this name

They are about numbers, not about files: who reads a file says where the numbers stood.
"""

from __future__ import annotations


class ImpossibleLabel(ValueError):
    """No mixture has these figures together; the message says why."""


class UnknownAcid(ValueError):
    """No acid has this name; the message names it and those that there are."""
