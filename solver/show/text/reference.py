"""The reference of every key of every file, as text and as a page of Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from solver.files.keys import KeyWords
from solver.pantry.reference import RAW_SAYS, FileWords, RawNeed, TableWords, lists, raw_needs

_RAW = "What raw stuff needs"
_LISTS = "Words that files use"


def file_text(file: FileWords) -> str:
    """One file: its tables, and of each key what it holds and says."""
    lines = [f"{file.name}: {file.says}"]
    for table in file.tables:
        lines += ["", f"  {_title(table)}"]
        for key in table.keys:
            lines += [f"    {key.name}: {_holds(key)}", f"      {key.says}"]
    if file.name == "house/":
        lines += ["", f"  {_RAW}", f"    {RAW_SAYS}"]
        lines += [f"    {need.name}, {need.unit}: {need.why}" for need in raw_needs()]
    return "\n".join(lines)


def lists_text(only: str = "") -> str:
    """The closed lists, each word with what it means; or one of them, by its name."""
    lines: list[str] = []
    named = {name: words for name, words in lists().items() if not only or name == only}
    for name, words in named.items():
        width = max(map(len, words))
        lines += [f"{name}", *(f"  {word:<{width}}  {says}" for word, says in words.items()), ""]
    return "\n".join(lines).rstrip()


def topics_text(files: Iterable[FileWords]) -> str:
    """What there is help on beside commands."""
    names = [(file.name, file.says) for file in files]
    names += [("words", "the lists of words; one alone by its name: equipour help kinds")]
    names += [("files", "all of these; --markdown makes it a page")]
    width = max(len(name) for name, _ in names)
    return "\n".join(f"  equipour help {name:<{width}}  {says}" for name, says in names)


def files_text(files: Sequence[FileWords]) -> str:
    """Every file, then the lists."""
    return "\n\n".join([*map(file_text, files), lists_text()])


def page(files: Sequence[FileWords]) -> str:
    """Every file and list as one page of Markdown."""
    lines = ["# The files of a bar", ""]
    lines += [f"- [`{file.name}`](#{_anchor(file)}): {file.says}" for file in files]
    for file in files:
        lines += ["", f'<a id="{_anchor(file)}"></a>', "", f"## `{file.name}`", ""]
        lines.append(f"{file.says[:1].upper()}{file.says[1:]}.")
        for table in file.tables:
            lines += [
                "",
                f"### {_title(table)}",
                "",
                *_markdown(_KEYS, map(_key_cells, table.keys)),
            ]
        if file.name == "house/":
            lines += ["", f"### {_RAW}", "", RAW_SAYS, ""]
            lines += _markdown(("key", "unit", "why"), map(_need_cells, raw_needs()))
    lines += ["", f"## {_LISTS}"]
    for name, words in lists().items():
        lines += ["", f"### {name[:1].upper()}{name[1:]}", ""]
        lines += _markdown(("word", "means"), ((f"`{w}`", says) for w, says in words.items()))
    return "\n".join(lines)


_KEYS = ("key", "holds", "without it", "says")


def _title(table: TableWords) -> str:
    return f"{table.header}  {table.says}".strip()


def _holds(key: KeyWords) -> str:
    if key.required:
        return f"{key.holds}; required"
    return f"{key.holds}; {key.default} without it" if key.default else key.holds


def _anchor(file: FileWords) -> str:
    return file.name.rstrip("/").replace(".", "-")


def _key_cells(key: KeyWords) -> tuple[str, ...]:
    return f"`{key.name}`", key.holds, "required" if key.required else key.default, key.says


def _need_cells(need: RawNeed) -> tuple[str, ...]:
    return f"`{need.name}`", f"`{need.unit}`", need.why


def _markdown(head: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table of Markdown."""
    lines = [head, ["---"] * len(head), *rows]
    return [
        f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in line)} |" for line in lines
    ]
