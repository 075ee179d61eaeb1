"""Several files at once: all of them or none, whatever fails; nothing of anybody else's lost."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.errors import BadInput
from solver.files import atomic, disk, journal
from solver.files.atomic import FileChange, FilePlace, prepared, settled, write
from solver.files.read import ABSENT, version_at, version_of
from tests.examples import examples
from tests.files.faults import KILLS, Fault, Killed, faulty

OLD = {"shelf.csv": b"gin,1\n", "specs/a.toml": b'name = "A"\n', "specs/b.toml": b'name = "B"\n'}
NEW = {**OLD, "shelf.csv": b"gin,2\n", "specs/b.toml": b'name = "BB"\n', "specs/c.toml": b"x = 1\n"}


@pytest.fixture(autouse=True, scope="module")
def _no_disk_to_wait_for() -> Iterator[None]:
    with faulty():
        yield


def bar(folder: Path) -> Path:
    for name, content in OLD.items():
        path = folder / name
        path.parent.mkdir(exist_ok=True, parents=True)
        path.write_bytes(content)
    return folder


def changes(folder: Path) -> list[FileChange]:
    return [
        FileChange(FilePlace(folder / name, version_at(folder / name)), content)
        for name, content in NEW.items()
        if OLD.get(name) != content
    ]


def content(folder: Path) -> dict[str, bytes]:
    """Every file that there is, the project's own and those of nobody."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def recover(folder: Path) -> list[str]:
    told: list[str] = []
    with settled(folder, told.append):
        return told


def calls() -> int:
    """How often a write of these files asks something of the disk."""
    import tempfile

    with tempfile.TemporaryDirectory() as name, faulty() as system:
        write(bar(Path(name)), changes(Path(name)))
    return system.count


ALL = calls()


def test_all_files_are_written_and_nothing_else_is_left(tmp_path: Path) -> None:
    folder = bar(tmp_path)
    write(folder, changes(folder))
    assert content(folder) == NEW
    assert recover(folder) == []


@pytest.mark.parametrize("fault", Fault)
def test_whatever_fails_at_whichever_call_it_is_all_or_nothing(
    fault: Fault, tmp_path: Path
) -> None:
    """Every call to the disk in turn: what is not undone at once is by the next command."""
    ends: set[str] = set()
    for at in range(ALL):
        folder = bar(tmp_path / str(at))
        asked = changes(folder)
        with faulty(fault, at) as system:
            try:
                write(folder, asked)
                ended = "written"
            except BadInput:
                ended = "refused"
            except (KeyboardInterrupt, Killed):
                ended = "stopped"
        assert system.count > at, "the fault never came"
        if fault not in KILLS and ended == "refused":
            assert content(folder) == OLD, (at, system.seen[at])
        told = recover(folder)
        assert content(folder) in (OLD, NEW), (at, system.seen[at])
        if ended == "written":
            assert content(folder) == NEW, (at, system.seen[at])
        assert recover(folder) == [], "told once"
        assert all("earlier command was stopped" in sentence for sentence in told)
        ends.add(ended)
    assert ends <= {"written", "refused", "stopped"}
    assert len(ends) >= 1


@settings(max_examples=examples(0.75))
@given(first=st.integers(0, 2 * ALL), second=st.integers(0, 2 * ALL), fault=st.sampled_from(KILLS))
def test_killed_again_and_again_while_it_mends_it_still_mends(
    first: int, second: int, fault: Fault, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = bar(tmp_path_factory.mktemp("bar"))
    asked = changes(folder)
    for at, run in ((first, lambda: write(folder, asked)), (second, lambda: recover(folder))):
        with faulty(fault, at):
            try:
                run()
            except Killed:
                continue
            except BadInput:
                pytest.fail("a kill is no refusal")
    recover(folder)
    assert content(folder) in (OLD, NEW)


@settings(max_examples=examples(0.75))
@given(
    first=st.integers(0, ALL), second=st.integers(1, ALL), faults=st.tuples(
        st.sampled_from([Fault.FULL, Fault.BROKEN, Fault.INTERRUPT_AFTER]), st.sampled_from(Fault)
    ),
)  # fmt: skip
def test_a_second_failure_while_the_first_is_undone_loses_nothing(
    first: int,
    second: int,
    faults: tuple[Fault, Fault],
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    folder = bar(tmp_path_factory.mktemp("bar"))
    asked = changes(folder)
    with faulty(faults[0], first) as system:
        strike = system._strike

        def then_another(
            name: str, real: Callable[..., object], args: tuple[object, ...]
        ) -> object:
            try:
                return strike(name, real, args)
            finally:
                system.at, system.fault = system.count + second, faults[1]

        system._strike = then_another  # type: ignore[method-assign]
        with contextlib.suppress(BadInput, KeyboardInterrupt, Killed):
            write(folder, asked)
    recover(folder)
    assert content(folder) in (OLD, NEW)


@pytest.mark.parametrize(
    ("name", "how"),
    [("shelf.csv", "edited"), ("shelf.csv", "deleted"), ("specs/b.toml", "edited"),
     ("specs/b.toml", "deleted"), ("specs/c.toml", "made")],
)  # fmt: skip
def test_a_file_that_was_changed_meanwhile_is_not_touched_and_neither_are_the_others(
    name: str, how: str, tmp_path: Path
) -> None:
    folder = bar(tmp_path)
    asked = changes(folder)
    path = folder / name
    if how == "deleted":
        path.unlink()
    else:
        path.write_bytes(b"somebody's own\n")
    before = content(folder)
    with pytest.raises(BadInput, match="while the command ran"):
        write(folder, asked)
    assert content(folder) == before


@pytest.mark.parametrize("name", [name for name in NEW if OLD.get(name) != NEW[name]])
def test_an_edit_between_two_renames_takes_the_others_back(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The last look is before each rename: an edit after the first of them is still seen."""
    folder = bar(tmp_path)
    asked = changes(folder)
    real = atomic._put

    def edited_before(written: journal.Journal, entry: journal.JournalEntry) -> None:
        if entry.path == name:
            (folder / name).write_bytes(b"somebody's own\n")
        real(written, entry)

    monkeypatch.setattr(atomic, "_put", edited_before)
    with pytest.raises(BadInput, match="while the command ran"):
        write(folder, asked)
    assert content(folder) == {**OLD, name: b"somebody's own\n"}


@pytest.mark.parametrize("name", [name for name in NEW if OLD.get(name) != NEW[name]])
def test_what_is_edited_after_a_kill_is_never_lost(name: str, tmp_path: Path) -> None:
    others = [{k: v for k, v in state.items() if k != name} for state in (OLD, NEW)]
    for at in range(ALL):
        folder = bar(tmp_path / str(at))
        asked = changes(folder)
        with faulty(Fault.KILL_AFTER, at), pytest.raises(Killed):
            write(folder, asked)
        (folder / name).write_bytes(b"somebody's own\n")
        recover(folder)
        after = content(folder)
        assert after.pop(name) == b"somebody's own\n", at
        assert after in others, at


def test_nothing_is_written_until_it_is_said_to_be(tmp_path: Path) -> None:
    folder = bar(tmp_path)
    with prepared(folder, changes(folder)) as put:
        assert {k: v for k, v in content(folder).items() if not k.startswith(".")}.items() >= (
            OLD.items()
        )
        del put
    assert content(folder) == OLD


def test_permissions_stay_and_a_link_stays_a_link(tmp_path: Path) -> None:
    folder = bar(tmp_path / "bar")
    real = tmp_path / "elsewhere.csv"
    (folder / "shelf.csv").rename(real)
    real.chmod(0o640)
    (folder / "shelf.csv").symlink_to(real)
    write(folder, changes(folder))
    assert (folder / "shelf.csv").is_symlink()
    assert real.read_bytes() == NEW["shelf.csv"]
    assert stat.S_IMODE(real.stat().st_mode) == 0o640
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bar", "elsewhere.csv"]


def test_a_disk_without_links_works_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "Operation not permitted")

    folder = bar(tmp_path)
    monkeypatch.setattr(os, "link", refuse)
    write(folder, changes(folder))
    assert content(folder) == NEW
    path = folder / "specs" / "c.toml"
    with pytest.raises(FileExistsError):
        disk.put_first(folder / "shelf.csv", path)
    assert content(folder) == NEW


def test_what_is_as_it_should_be_is_not_written_again(tmp_path: Path) -> None:
    folder = bar(tmp_path)
    path = folder / "shelf.csv"
    before = path.stat()
    write(folder, [FileChange(FilePlace(path, version_of(OLD["shelf.csv"])), OLD["shelf.csv"])])
    assert path.stat().st_mtime_ns == before.st_mtime_ns


def test_a_folder_that_is_only_for_reading_is_read_though_a_write_was_begun(
    tmp_path: Path,
) -> None:
    """Nothing had been changed yet: there is nothing to wait for."""
    folder = bar(tmp_path)
    with faulty(Fault.KILL_AFTER, 12), pytest.raises(Killed):
        write(folder, changes(folder))
    assert journal.left_in(folder)
    with faulty(Fault.FULL, 0):
        assert recover(folder) == []
    assert {**content(folder), **OLD} == content(folder)


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", '{"format": 2}', "\0", "9" * 5000, "[" * 5000, '{"format":1,"key":"00"}',
     '{"format":1,"key":"00","stage":"begun","files":[{"path":"2e2e2f61","was":"","becomes":""}]}',
     '{"format":1,"key":"00","stage":"begun","files":[{"path":"2f61","was":"","becomes":""}]}',
     '{"format":1,"key":"../","stage":"begun","files":[]}'],
)  # fmt: skip
def test_a_journal_that_is_none_of_ours_is_said_and_touches_nothing(
    text: str, tmp_path: Path
) -> None:
    folder = bar(tmp_path)
    (folder / journal.NAME).write_text(text, encoding="utf-8")
    before = content(folder)
    with pytest.raises(BadInput, match="journal of an interrupted command cannot be read"):
        recover(folder)
    assert content(folder) == before


def test_a_new_file_never_takes_the_place_of_one_that_is_there(tmp_path: Path) -> None:
    folder = bar(tmp_path)
    with pytest.raises(BadInput, match="the file was made while the command ran"):
        write(folder, [FileChange(FilePlace(folder / "specs" / "a.toml", ABSENT), b"other")])
    assert content(folder) == OLD
