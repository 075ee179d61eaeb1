"""The command line, one thin module for each command.

`start` and `exit_messages` give every end its one message and its code; an error that nobody
foresaw is 70, never Python's 1, which means that something is proven impossible. `main` imports a
command when it is asked for. A command pays for what it imports, and a frozen dataclass alone takes
some 0.3 ms to make, so what only few questions need (MILP rows, curves, the document where text is
asked) is imported in the function that needs it.

Output comes first: `output` flushes the answer before anything takes its place. `prep --stock`,
`batch --stock`, `assess --approve` and all of `stock` that writes hold the lock from before they
read the bar, so that two of them follow each other; what searches for long does not, and is refused
where somebody was faster.

Long work says how far it is through its `Clock`: `clock.tell` hands numbers to whoever watches,
which is `progress`, where standard error is a terminal and no document is asked for. What goes
through items tells those, and hands its parts a clock that is `unwatched`.

`conversation` holds questions one after another: each is a whole command line, run by the same
group, with `opened` between it and the bar, which is loaded anew where a file has changed.
"""
