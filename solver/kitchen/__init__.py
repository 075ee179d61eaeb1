"""What the kitchen does: batches by weight, steps that lose steam or solids, what was measured.

Numbers only. A batch is an array whose last axis is `batch.COLUMNS`, all of it grams but one. Steps
turn a batch into what stays and what goes, and nothing is lost between the two. `Cooking` strings
inputs and steps together; `reconcile` fits it to what was weighed and read.
"""
