"""Looking at a drink, the shelf, an ingredient, the profiles."""

from pathlib import Path

from click.testing import CliRunner, Result

from solver.cli.main import main

DEMO = str(Path(__file__).parents[2] / "demo")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, [*arguments, "--bar", DEMO])


def test_an_existing_drink_is_weaker_and_larger_in_the_glass_than_before_ice() -> None:
    result = run("assess", "2 oz gin", "3/4 oz lemon juice", "3/4 oz simple-syrup")
    assert result.exit_code == 0, result.output
    strength = next(line for line in result.output.splitlines() if "strength" in line).split()
    volume = next(line for line in result.output.splitlines() if "volume" in line).split()
    assert float(strength[1]) > float(strength[2])
    assert float(volume[1]) < float(volume[2])


def test_a_pour_of_nothing_known_gets_one_sentence() -> None:
    result = run("assess", "2 oz unobtainium")
    assert result.exit_code == 2
    assert "unobtainium" in result.output


def test_an_ingredient_without_an_amount_is_not_taken_for_a_misspelling() -> None:
    result = run("assess", "mezcal")
    assert result.exit_code == 2
    assert "without an amount" in result.output
    assert "Did you mean" not in result.output


def test_an_ingredient_tells_its_sources_and_its_allergens() -> None:
    result = run("ingredients", "egg-white")
    assert result.exit_code == 0
    assert "allergens  egg" in result.output
    assert "USDA" in result.output


def test_the_shelf_lists_every_bottle_and_the_house_ingredients() -> None:
    result = run("shelf")
    assert "rye-whiskey" in result.output
    assert "rhubarb-syrup" in result.output
    assert "45.0" in next(x for x in result.output.splitlines() if x.startswith("rye-whiskey"))


def test_the_profiles_include_the_bar_s_own() -> None:
    names = {line.split()[0] for line in run("profiles").output.splitlines()}
    assert {"sour", "stirred", "bollard-sour"} <= names


def test_a_profile_tells_its_parts_its_aims_and_its_source() -> None:
    result = run("profiles", "sour")
    for said in ("base", "1 1/4..2 1/2 oz", "strength", "17%", "from memory"):
        assert said in result.output
