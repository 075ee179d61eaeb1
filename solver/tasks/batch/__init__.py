"""Drinks mixed ahead: what goes into the bottle, what waits for service, how long it keeps.

A batch is an assessed drink, scaled. `left_out` says what waits for service and why; `Finish` says
which share of the melt is water in the bottle, and the rest melts at service, so that a batch and
what is added are the single drink, to the step in which a kitchen measures (`measured_amounts`).
`mixture/freezing` finds where the mixture's water activity is that of ice, and how much freezes.
`batch_shelf_life` asks `prep/shelf_life`, as for any house ingredient.

On the shelf a batch is of the kind `batch`, which no part of a profile takes; its allergens come
from what it is `made_of`, and from what steps and notes name (`put_into_stock`). Sales and plans
take from it first (`drinks/mixed_ahead`).
"""

from solver.tasks.batch.batch import Batch, Finish, batch_of
from solver.tasks.batch.size import Size, read_size

__all__ = ["Batch", "Finish", "Size", "batch_of", "read_size"]
