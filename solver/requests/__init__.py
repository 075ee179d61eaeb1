"""What is asked of a drink, as numbers and named demands, and what of it the search is given.

`read_request` is the one reader: options, guests' files, documents and programs all come through
it, and no text is parsed after it. A `Request` holds numbers and keys; `origin` says where each
bound came from. `demands` names everything that is asked: both ends of every limit, every wish, the
stock, the counts and pours of the profile's parts, the jigger. Each can be dropped, and those on
measures moved, while the rest stays; `asked_drink` poses the problem that remains. `choose_drink`
puts goals together: cheapest, lightest and fewest are of what is on target.

How loud a character is (`--character "smoke 0.5..1"`) is a measure that is no entry of the table:
a sum over the pours, in usual pours of what carries it (`character_amounts`). A bound on it also
implies a choice: something that carries it is poured, or nothing that does. A bound that is moved
takes its choice away.
"""
