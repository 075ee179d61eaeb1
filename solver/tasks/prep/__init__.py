"""House ingredients: from a recipe and its measurements to the content of the bottle.

`recipe_model` reads a recipe into a `kitchen/cooking`, `prepare` fits it to what was measured, and
`as_ingredient` makes of it what drinks can pour; `shelf_life` says how long it keeps and why. A
spec may pour what a recipe makes before anybody cooked it (`uncooked`): specs may, no design does,
and whatever shows such a drink calls it a draft.

`recipe` on the command line writes what is said in lines. `recipe_lines` reads a line as something
that is done, or something that goes in (`said_amounts`, which asks whether a kitchen can weigh it);
`kind_of` finds out what sort of thing comes out; `write_recipe` changes the text of the file, in
which all else stays, reads it back and prepares it before anything is written.
"""

from solver.tasks.prep.figures import Estimate, Figures
from solver.tasks.prep.prepare import Prep, StepLoss, find_recipe, prepare

__all__ = ["Estimate", "Figures", "Prep", "StepLoss", "find_recipe", "prepare"]
