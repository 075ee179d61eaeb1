"""What things are: ingredients, shelf, profiles, specs and the bar, with reading and writing.

A `Bar` is frozen, and read by `load_bar(folder, day)`. `Bar.stock` is what may be poured; what is
past its last day is in `Bar.past`, what a recipe lets stand is in `Bar.waiting` until it is ready,
counted from the day it was made. A mistake in a spec stops only what needs that spec: `Bar.book`
has those that can be read, and what is wrong with the rest.

What a guest is told
    `disclosure` has the one type of what a thing is to a guest, put together for every ingredient
    from what its file states and from all that goes into it (`recipe_inputs`: recipes and
    `made_of`, in order, without recursion), and, as long as any of it stands on the shelf, from all
    that it `was_made_of`, whatever its recipe says by now. Nothing else reads an ingredient's own
    allergens; a test says so. `mentions` reads garnishes, steps and notes: what they name is
    certain, and a word that nobody knows makes allergens not known. `avoidable` compiles each word
    of a guest once per bar into an `Avoidance`; whether something is offered is one comparison of
    two sets of words, and unknown counts against.

Names
    A name that the house gave to its own means that (`house_names`): "almond syrup" is the house's
    where it makes one, so that no allergen is lost by a name. `Library.get` and `find` know it,
    `by_key` does not. The bought one beside it is called "bought" wherever it is shown. A bar's own
    name for a bottle is its `label`; the name from before is an alias, the key stays.

Stock
    A shelf has one row for each ingredient, with the dates of the batch to be poured first; batches
    of the same name that were made later stand in its cell `newer` (`dated_batches`). Fruit on the
    shelf is in stock as its juice too (`pressed`), and whole eggs as white and yolk.

Prices
    are of one mL or g and come from one place, `Stocked.price_per_unit`: the shelf's own, else
    worked out by the fruit of a juice, as the bar is loaded, or by recipe
    (`tasks/price/house_recipe_costs`). `missing_prices` names what is missing at its root.
"""
