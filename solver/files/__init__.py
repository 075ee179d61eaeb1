"""Files of the user's: read with the line of every mistake, written whole or not at all.

    read        the bytes of a regular file
    toml        TOML, and the lines on which its keys stand
    sheet       tables of spreadsheets, in any of their dialects
    checked     what a table says, as a model, or its mistakes
    folders     the files in a folder
    near_words  words that are spelt alike
    lock        one writer at a time, and no reader meanwhile
    atomic      several files at once: all of them, or none
    journal     what a command that was killed had begun

Nothing here knows what the files are about.

Only `atomic` writes. A command reads a file with its version (a digest), makes the new content, and
hands over both as a `Change`. `write(folder, changes)` holds the folder's lock, looks whether every
file still is that version, has all new files on disk beside the old ones, notes in the journal that
it is decided, and renames one after another, with one more look before each. A new file is linked
into place, so that it cannot take that of another. What fails in between is taken back. Whatever
kills the process is ended by the next command that opens the bar: finished where it was decided,
removed where not, taken back where somebody has edited one of the files since. Nobody's own edit is
overwritten. Between the last look and the rename lie some microseconds in which an editor's save
would be lost: systems offer no rename that compares.
"""
