"""Questions as they are asked one after another: read, answered, and none of them ends the rest."""

from __future__ import annotations

import _thread
import contextlib
import importlib
import shlex
import sys
from collections.abc import Callable
from pathlib import Path
from pkgutil import walk_packages

import click

from solver.cli.exits import ANSWERED, INTERRUPTED, READER_GONE
from solver.cli.opened import OpenBars
from solver.cli.output import complain, note
from solver.errors import BadInput, EquipourError

PROMPT = "equipour> "
ENDS = frozenset({"quit", "exit"})
MOST_REMEMBERED = 1000
"""Lines that can be called back, for as long as the conversation lasts."""


class Conversation:
    """Questions of one bar, whose folder is `root`, answered by the commands of `group`."""

    def __init__(self, group: click.Command, root: Path | None) -> None:
        self.group = group
        self.first = ["--bar", str(root)] if root is not None else []
        self.bars = OpenBars()

    def hold(self) -> int:
        """Answer until there are no more questions; the exit code of it all.

        On a terminal that is 0: somebody was there and saw.
        """
        sys.unraisablehook = _hear_later
        if sys.stdin is None:
            return ANSWERED
        if sys.stdin.isatty() and sys.stdout is not None and sys.stdout.isatty():
            _import_everything()
            self._remember()
            note("ask as on the command line; help tells what there is, quit ends it")
            self._answer_all(_typed, on_terminal=True)
            return ANSWERED
        with contextlib.suppress(AttributeError, ValueError):
            sys.stdin.reconfigure(errors="surrogateescape")  # type: ignore[union-attr]
        return self._answer_all(lambda: next(sys.stdin, None))

    def _answer_all(self, read: Callable[[], str | None], *, on_terminal: bool = False) -> int:
        """Answer what is read, line by line, until that is None; the highest exit code of all.

        On a terminal an interrupt ends a question, wherever it falls; elsewhere the rest, too.
        """
        worst = ANSWERED
        while True:
            try:
                code = self._answer_next(read)
            except KeyboardInterrupt:
                complain("interrupted")
                code = INTERRUPTED
            worst = max(worst, code or ANSWERED)
            if code in {None, READER_GONE} or (code == INTERRUPTED and not on_terminal):
                return worst

    def _answer_next(self, read: Callable[[], str | None]) -> int | None:
        """The exit code of the next question; None where there is none."""
        line = read()
        if line is None:
            return None
        words = self._words(line)
        if words is None:
            return BadInput.exit_code
        return None if words[:1] and words[0] in ENDS else self.answer(words)

    def _words(self, line: str) -> list[str] | None:
        """A line as a command line; None, with a sentence, where a quote is left open."""
        try:
            words = shlex.split(line, comments=True)
        except ValueError:
            what = BadInput("a quotation mark is missing", remedy='Write it like "2 oz gin".')
            complain(str(what))
            return None
        return words[1:] if words[:1] == ["equipour"] else words

    def answer(self, words: list[str]) -> int:
        """Answer a question as the command line does; its exit code."""
        if not words:
            return ANSWERED
        if words[0] == "help":
            words = [*words[1:2], "--help"]
        if words[0] == "ask":
            complain(str(BadInput("this is where questions are asked", remedy="Ask the next one.")))
            return BadInput.exit_code
        try:
            code = self.group.main(
                [*self.first, *words], prog_name="equipour", standalone_mode=False, obj=self.bars
            )
        except SystemExit as end:
            code = end.code
        return code if isinstance(code, int) else ANSWERED

    def _remember(self) -> None:
        """Lines can be called back and completed, where the system has what that takes."""
        with contextlib.suppress(ImportError):
            import readline

            libedit = "libedit" in (readline.__doc__ or "")
            readline.parse_and_bind("bind ^I rl_complete" if libedit else "tab: complete")
            readline.set_completer_delims(" \t\n")
            readline.set_history_length(MOST_REMEMBERED)
            readline.set_completer(self._completed)

    def _completed(self, begun: str, at: int) -> str | None:
        """The `at`-th word that the one `begun` may become."""
        import readline

        before = readline.get_line_buffer()[: readline.get_begidx()]
        found = self.completions(before, begun)
        return found[at] if at < len(found) else None

    def completions(self, before: str, begun: str) -> list[str]:
        """What the shell would complete after `before`: commands, options, names."""
        from click.shell_completion import ShellComplete

        with contextlib.suppress(ValueError, EquipourError, OSError):
            words = shlex.split(before)
            shell = ShellComplete(self.group, {"obj": self.bars}, "equipour", "")
            own = ["help", "quit"] if not words else []
            items = shell.get_completions([*self.first, *(w for w in words if w != "help")], begun)
            names = [item.value for item in items if item.type == "plain"]
            return [f"{word} " for word in (*names, *own) if word.startswith(begun)]
        return []


def _import_everything() -> None:
    """Import what answers need before the first is asked for: an interrupt that falls into an
    import leaves half a module, and every later question without the other half."""
    import solver.cli
    import solver.drinks
    import solver.search
    import solver.show

    own = [
        each.name
        for room in (solver.cli, solver.drinks, solver.search, solver.show)
        for each in walk_packages(room.__path__, f"{room.__name__}.")
    ]
    compiled = ("numpy.ma", "numpy.random", "ortools.sat.python.cp_model_helper")
    for name in (*compiled, *own):
        importlib.import_module(name)


def _typed() -> str | None:
    """A line from a terminal, "" for one that is interrupted; None where there are no more."""
    try:
        return input(PROMPT)
    except KeyboardInterrupt:
        sys.stdout.write("\n")
        return ""
    except EOFError:
        sys.stdout.write("\n")
        return None


def _hear_later(what: sys.UnraisableHookArgs) -> None:
    """An interrupt that came where nothing can be raised ends the question, as any other."""
    if what.exc_type is KeyboardInterrupt:
        _thread.interrupt_main()
    else:
        sys.__unraisablehook__(what)
