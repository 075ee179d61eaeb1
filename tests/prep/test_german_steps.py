"""Steps in German are the English ones."""

from __future__ import annotations

from pathlib import Path

import pytest

from solver.pantry.load_bar import load_bar
from solver.tasks.prep.german_steps import in_english
from solver.tasks.prep.recipe_lines import read_line


@pytest.mark.parametrize(
    ("german", "english"),
    [
        ("20 Minuten köcheln", "simmer 20 min"),
        ("10 bis 20 Minuten köcheln lassen", "simmer 15 min"),
        ("etwa 12 Stunden ziehen lassen", "steep 12 h"),
        ("über Nacht ziehen lassen", "steep overnight"),
        ("abseihen", "strain"),
        ("durch ein Tuch abseihen.", "strain through cloth"),
        ("abkühlen lassen", "cool"),
    ],
)
def test_a_german_step_is_the_english_one(tmp_path: Path, german: str, english: str) -> None:
    (tmp_path / "bar.toml").write_text('name = "b"\n', encoding="utf-8")
    bar = load_bar(tmp_path)
    assert read_line(german, bar) == read_line(english, bar)


@pytest.mark.parametrize("line", ["simmer 20 min", "200 g honey", "", "Kochen und rühren"])
def test_any_other_line_stays_as_it_is(line: str) -> None:
    assert in_english(line) == line
