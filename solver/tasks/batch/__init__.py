"""Drinks mixed ahead: what goes into the bottle, what waits for service, how long it keeps."""

from solver.tasks.batch.batch import Batch, Finish, batch_of
from solver.tasks.batch.size import Size, read_size

__all__ = ["Batch", "Finish", "Size", "batch_of", "read_size"]
