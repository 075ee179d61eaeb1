"""What people and programs read, by what it is. Nothing is computed here.

    words      the words of papers in each language, and how names are put in a row
    text       what a terminal shows, and tables as CSV
    documents  what `--json` prints: numbers, and sentences of the text
    pages      what is printed, sent or hung up: cards, plans, labels, pictures

The text and the document of an answer are modules of the same name: who changes one looks at both.
"""
