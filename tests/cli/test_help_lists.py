"""Each list of words has help of its own, and a word that is in none points there."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner

from solver.cli.main import main
from solver.pantry.reference import lists
from tests.each import each


@each(lists())
def test_every_list_is_told_by_its_name(name: str) -> None:
    said = CliRunner().invoke(main, ["help", *name.partition(" of ")[0].split()])
    assert said.exit_code == 0
    assert said.stdout.startswith(f"{name}\n")
    assert all(f"  {word}" in said.stdout for word in lists()[name])
    assert not any(f"\n{other}\n" in said.stdout for other in lists())


def test_a_word_that_is_no_character_points_to_the_list(tmp_path: Path) -> None:
    (tmp_path / "bar.toml").write_text('name = "b"\n', encoding="utf-8")
    (tmp_path / "house").mkdir()
    text = '[s]\nname = "s"\nkind = "syrup/spice"\ncharacter = ["qqqq"]\n[s.recipe.inputs]\n'
    (tmp_path / "house" / "s.toml").write_text(f'{text}water = "1 g"\n', encoding="utf-8")
    said = CliRunner().invoke(main, ["shelf", "--bar", str(tmp_path)])
    assert "'qqqq' is not a character" in said.stderr
    assert "See `equipour help characters`." in said.stderr
