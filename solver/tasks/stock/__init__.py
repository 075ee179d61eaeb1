"""Stock movements: counted in and out, sold, logged, undone.

A `Movement` is a shelf before and after and an entry of the log, written together
(`pantry/stock_log`, whose top documents the columns). The log holds cells as written, so that undo
restores them letter for letter, and by the difference where more moved since; several undos are
worked out in memory and written as one (`undo`). What serves take is `drinks/serve`, and what
garnish and fruit weigh stands in `ingredients/yields/`. What is made is one such movement too
(`made_batch`): the batch comes, what went in goes, and the figures of its house file are moves of
the log like cells. What is sold comes out of a batch of the same drink as far as that goes
(`from_batch`). What is past is poured last (`pouring_order`). What is taken by the piece is never
opened: eggs in their shells keep to the date of their row, for the days of life of an egg are those
of a cracked one. Of what comes in bottles (`pantry/bottled`) the date is that of the open one, and
what is left of it is a batch beside the closed ones; `opening` says which bottle sales leave open.
Juice and parts of eggs are taken as far as there are any, the rest by the piece (`pantry/pressed`),
and a batch is poured as it was mixed, which its house file says (`holds`, `serve_ml`). What stands
there is told of as it was made (`was_made_of`), and only the same comes beside it (`beside`).
"""
