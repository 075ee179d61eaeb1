"""One writer at a time in a folder, and no reader meanwhile."""

from __future__ import annotations

import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from solver.errors import BadInput
from solver.files import lock
from solver.files.lock import locked

HOLD = """
import sys, time
from pathlib import Path
from solver.files.lock import locked
with locked(Path(sys.argv[1]), shared=sys.argv[2] == "shared"):
    print("held", flush=True)
    sys.stdin.readline()
"""


def holder(folder: Path, how: str) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(folder), how],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "held\n"
    return process


@pytest.mark.parametrize(
    ("theirs", "shared", "free"),
    [("alone", True, False), ("alone", False, False), ("shared", False, False),
     ("shared", True, True)],
)  # fmt: skip
def test_a_lock_of_another_process_is_waited_for_and_ends_with_it(
    theirs: str, shared: bool, free: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lock, "PATIENCE_S", 0.05)
    with holder(tmp_path, theirs) as other:
        if free:
            with locked(tmp_path, shared=shared):
                pass
        else:
            with (
                pytest.raises(BadInput, match="another equipour command is writing here"),
                locked(tmp_path, shared=shared),
            ):
                pass
        other.kill()
        other.wait()
        with locked(tmp_path, shared=shared):
            pass
    assert list(tmp_path.iterdir()) == []


def test_who_waits_is_told_so_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "PATIENCE_S", 0.1)
    monkeypatch.setattr(lock, "_SILENT_S", 0.0)
    told: list[str] = []
    with holder(tmp_path, "alone") as other:
        with pytest.raises(BadInput), locked(tmp_path, tell=told.append):
            pass
        other.kill()
    assert told == ["waiting for another equipour command that is writing to this bar"]


def test_a_lock_is_not_waited_for_by_who_has_it(tmp_path: Path) -> None:
    with locked(tmp_path), locked(tmp_path, shared=True), locked(tmp_path):
        pass
    with locked(tmp_path, shared=True), locked(tmp_path), locked(tmp_path, shared=True):
        pass


def test_two_threads_wait_for_each_other(tmp_path: Path) -> None:
    inside: list[str] = []

    def work(name: str) -> None:
        with locked(tmp_path):
            inside.append(name)
            time.sleep(0.05)
            inside.append(name)

    threads = [threading.Thread(target=work, args=(name,)) for name in "ab"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert inside in (["a", "a", "b", "b"], ["b", "b", "a", "a"])


def test_where_a_folder_cannot_be_locked_a_file_in_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on disks of a network, where only what is open for writing can be locked."""
    real = lock._take

    def refuse(descriptor: int, *, shared: bool) -> bool:
        if (tmp_path / lock.LOCK_FILE).exists():
            return real(descriptor, shared=shared)
        raise OSError(9, "Bad file descriptor")

    monkeypatch.setattr(lock, "_take", refuse)
    with locked(tmp_path):
        assert [path.name for path in tmp_path.iterdir()] == [lock.LOCK_FILE]


def test_what_cannot_be_locked_at_all_is_read_but_not_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object, **__: object) -> bool:
        raise OSError(38, "Function not implemented")

    monkeypatch.setattr(lock, "_take", refuse)
    with locked(tmp_path, shared=True):
        pass
    with pytest.raises(BadInput, match="nothing can be written here"), locked(tmp_path):
        pass
