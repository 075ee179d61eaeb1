"""The reference of every key of every file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from solver.pantry.reference import FileWords, lists, raw_needs
from solver.show.documents.contract import document


def reference_json(files: Sequence[FileWords]) -> str:
    """The document of files, and of the lists that they use."""
    fields: Mapping[str, Any] = {
        "files": [
            {
                "file": file.name,
                "says": file.says,
                "tables": [
                    {
                        "header": table.header,
                        "says": table.says,
                        "keys": [vars(key) for key in table.keys],
                    }
                    for table in file.tables
                ],
            }
            for file in files
        ],
        "raw": [vars(need) for need in raw_needs()],
        "lists": {name: dict(words) for name, words in lists().items()},
    }
    return document("help", fields)
