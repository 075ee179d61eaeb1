"""The lock files hold what pyproject.toml asks for, the same in both, every pin with its hashes."""

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
RUNNING = [*PROJECT["build-system"]["requires"], *PROJECT["project"]["dependencies"]]
DEVELOPING = [*RUNNING, *PROJECT["project"]["optional-dependencies"]["dev"]]
PIN = re.compile(r"^(\S+)==(\S+)([^\\\n]*(?:\\\n[^\\\n]*)*)", flags=re.MULTILINE)

Pins = dict[str, list[tuple[str, str]]]


def pins_of(lock: str) -> Pins:
    """What a lock file pins: the versions of each name, and what follows each."""
    pins: Pins = {}
    for name, version, rest in PIN.findall((ROOT / lock).read_text(encoding="utf-8")):
        pins.setdefault(canonicalize_name(name), []).append((version, rest))
    return pins


@pytest.mark.parametrize(
    ("lock", "wanted"),
    [("requirements.lock", RUNNING), ("tests/requirements.lock", DEVELOPING)],
)
def test_what_is_asked_for_is_pinned_with_hashes(lock: str, wanted: list[str]) -> None:
    pins = pins_of(lock)
    for asked in map(Requirement, wanted):
        versions = [version for version, _ in pins[canonicalize_name(asked.name)]]
        assert all(version in asked.specifier for version in versions), asked
    assert all("--hash=sha256:" in rest for found in pins.values() for _, rest in found)


def test_tests_run_with_what_users_run_with() -> None:
    developing = pins_of("tests/requirements.lock")
    assert {name: developing.get(name) for name in pins_of("requirements.lock")} == pins_of(
        "requirements.lock"
    )
