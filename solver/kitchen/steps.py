"""Steps of a recipe: each splits a batch into what stays and what goes, and loses nothing.

Batches are arrays (..., columns); shares are arrays (...) between 0 and 1.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from solver.kitchen.batch import INSOLUBLE, WATER
from solver.mixture.numeric import Floats


def boil(batch: Floats, share: npt.ArrayLike) -> tuple[Floats, Floats]:
    """What stays, and the steam: that share of the water. Nothing else evaporates.

    Not for a pan with alcohol in it: that leaves before the water does.
    """
    steam = np.zeros_like(batch)
    steam[..., WATER] = np.asarray(share) * batch[..., WATER]
    return batch - steam, steam


def strain(batch: Floats, held: npt.ArrayLike, passes: float) -> tuple[Floats, Floats]:
    """What runs through, and what stays in the strainer.

    The strainer keeps what does not dissolve, but for the share that `passes`, and that share
    `held` of the liquid, which is the same liquid as runs through.
    """
    left = np.asarray(held)[..., np.newaxis] * batch
    left[..., INSOLUBLE] = (1.0 - passes) * batch[..., INSOLUBLE]
    return batch - left, left
