"""Files of the user's: read with the line of every mistake, written whole or not at all.

    read        the bytes of a regular file
    toml        TOML, and the lines on which its keys stand
    sheet       tables of spreadsheets, in any of their dialects
    checked     what a table says, as a model, or its mistakes
    folders     the files in a folder
    near        words that are spelt alike
    lock        one writer at a time, and no reader meanwhile
    atomic      several files at once: all of them, or none
    journal     what a command that was killed had begun

Nothing here knows what the files are about.
"""
