"""What the kitchen does: batches by weight, steps that lose steam or solids, what was measured.

Numbers only. A batch is an array whose last axis is `batch.COLUMNS`, all of it grams but one.
`steps` splits a batch into what stays and what goes, and nothing is lost between the two. `Cooking`
strings inputs and steps together, for any guess of what nobody weighed. `reconcile` fits amounts,
figures and losses to what was weighed and read, each pulling with its own accuracy (least squares);
the covariance of the fit is the ± of every figure. Usual losses (`practice`) pull too, but do not
count when readings are asked whether they contradict each other. `aiming` adds in whole steps of a
scale: a linear program with the volume's slopes, solved by CP-SAT until its answer stays, and
checked by the exact balance.
"""
