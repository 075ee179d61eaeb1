"""What a person can write wrong in a bar's files is told at the line where it stands."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from pathlib import Path

from solver.pantry.bar_file import read_bar_file
from solver.pantry.library import load_library, read_ingredients
from solver.pantry.profile_files import find_profile, profile_files
from solver.pantry.recipe import read_recipes
from solver.pantry.shelf import read_shelf
from solver.quantities import Measures
from tests.each import each
from tests.pantry.strategies import mistakes_in

GIN = """[own]
name = "own gin"
kind = "spirit/gin"
abv = { pct = 41, basis = "published", source = "label" }
sugar = { g_100ml = 0, basis = "published", source = "label" }
acid = { g_100ml = 0, basis = "published", source = "label" }
allergens = []
animal = []
"""
JAM = """[own]
name = "own jam"
kind = "raw/seed"
tool = "weigh"
per = "g"
abv = { pct = 0, basis = "published", source = "label" }
sugar = { g_100g = 60, basis = "published", source = "label" }
acid = { g_100g = 1, basis = "published", source = "label" }
acids = { citric = 1 }
moisture = { g_100g = 35, basis = "published", source = "label" }
insoluble = { g_100g = 2, basis = "published", source = "label" }
allergens = []
animal = []
"""
RECIPE = """[own]
name = "own syrup"
kind = "syrup/plain"

[own.recipe.inputs]
white-sugar = "500 g"
water = "500 g"
"""
PROFILE = """name = "own"
inherits = "sour"
equal = ["base"]

[parts.base]
count = [1, 1]
each = "1..2 oz"
total = "1..2 oz"
usual_pour = "2 oz"

[aims]
abv = "15..19%"

[tolerances]
abv = "1%"

[limits]
abv = "10..25%"
"""
BAR = """name = "own"
ounce = "30 ml"
currency = "EUR"

[glasses.coupe]
brim = "210 ml"
wash_line = "175 ml"

[melt.stir]
before = "95 g"
after = "131 g"
abv = "33%"
"""
SHELF = """ingredient,bottle,price,on_hand,opened,overrides,batches
gin,700 ml,20,1 bottle,,,
vodka,700 ml,15,1 bottle,,,
"""


def _use_profile(path: Path) -> None:
    profile = find_profile(path.stem, {**profile_files(), path.stem: path})
    profile.targets(Measures())
    for part in profile.parts:
        profile.part_pours(part, Measures())


def _use_ingredients(path: Path) -> None:
    for item in read_ingredients([path]):
        item.composition()


def _use_shelf(path: Path) -> None:
    read_shelf(path, load_library(), Measures(), "EUR")


def look(
    name: str, text: str, read: Callable[[Path], object], old: str, new: str, said: str
) -> None:
    """`new` in place of `old` is one mistake, told in these words, at the line of `new`: at the
    last one of it that ends with a mark "<", if one does."""
    assert text.count(old) == 1, old
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_text(text, encoding="utf-8")
        assert not mistakes_in(lambda: read(path)), "as it stands, nothing is wrong with it"
        before = text[: text.index(old)]
        marked = [at for at, line in enumerate(new.split("\n")) if line.endswith("<")]
        path.write_text(text.replace(old, new.replace("<", "")), encoding="utf-8")
        [error] = mistakes_in(lambda: read(path))
        assert error.where is not None
        assert error.where.source == path
        line = before.count("\n") + 1 + (marked[-1] if marked else 0)
        assert (error.where.line, said in f"{error.what}; {error.why}") == (line, True), error


@each([
    ("pct = 41", "pct = 141", "it is above 100 % vol"),
    ("pct = 41", "pct = 41, low = 42", "the figure 41 is outside its own range 42 to 41"),
    ("[own]", '[own]<\ntool = "weigh"', "tool 'weigh' and per 'ml' do not go together"),
    ("[own]", '[own]<\ntool = "piece"', "the size of one piece is missing"),
    ("sugar = { g_100ml = 0", "sugar = { g_100ml = 300", "come to 300 g"),
    ("allergens", 'moisture = { g_100ml = 5, basis = "estimate", source = "me" }<\nallergens',
     "only what is weighed has it"),
    ("allergens", 'density = { g_ml = 9, basis = "estimate", source = "me" }<\nallergens',
     "9 g/mL is the density of no drink"),
    (GIN, GIN.replace("[own]", "[own]<").replace("acid = { g_100ml = 0", "acid = { g_100ml = 2"),
     "the shares are missing"),
    ("allergens", "acids = { lemony = 1 }<\nallergens", "'lemony' is not an acid known here"),
    ("animal = []", 'animal = []\n[second]<\nname = "Own  GIN"\n' + GIN.split("\n", 2)[2].strip(),
     "'own gin' already names own"),
    ("animal = []", "animal = []\ntable = 3<", "'own.table' is not a key known here"),
])  # fmt: skip
def test_an_ingredient(old: str, new: str, said: str) -> None:
    look("own.toml", GIN, _use_ingredients, old, new, said)


@each([
    ("pct = 0", "pct = 5", "it is above zero"),
    ("citric = 1", "citric = 0.5", "the shares add up to 0.5"),
    ("insoluble = { g_100g = 2", "insoluble = { g_100g = 9", "they leave 4 g"),
    ("sugar = { g_100g = 60", "sugar = { g_100g = 90", "100 g is the most there can be in 100 g"),
])  # fmt: skip
def test_an_ingredient_that_is_weighed(old: str, new: str, said: str) -> None:
    look("own.toml", JAM, _use_ingredients, old, new, said)


@each([
    ('[own.recipe.inputs]\nwhite-sugar = "500 g"\nwater = "500 g"\n', "[own.recipe.inputs]\n",
     "nothing goes in"),
    ("[own.recipe.inputs]", "[other]\nrecipe = 5<\n[own.recipe.inputs]",
     "the recipe of 'other' is not a table"),
])  # fmt: skip
def test_a_recipe(old: str, new: str, said: str) -> None:
    look("own.toml", RECIPE, lambda path: read_recipes([path]), old, new, said)


@each([
    ("count = [1, 1]", "count = [2, 1]", "the least comes first, then the most"),
    ('equal = ["base"]\n\n[parts.base]\ncount = [1, 1]',
     'equal = ["base"]<\n\n[parts.base]\ncount = [0, 1]', "all of the equal parts may be empty"),
    ('total = "1..2 oz"', 'total = "5 g"', "their total in g"),
    ('usual_pour = "2 oz"', 'usual_pour = "2 g"', "the usual one in g"),
    ('inherits = "sour"', 'inherits = "own"', "own -> own"),
    ('inherits = "sour"', "inherits = 5", "inherits must be text in quotes"),
    ("[parts.base]", "[parts]\nother = 5<\n[parts.base]", "the part 'other' is not a table"),
    ('[tolerances]\nabv = "1%"', "[tolerances]\nabv = 5<", "must be text in quotes"),
    ('[tolerances]\nabv = "1%"', '[tolerances]\nabv = "1..2%"<', "a range where one value"),
    ('[tolerances]\nabv = "1%"', '[tolerances]\nabv = "0%"<', "a tolerance of nothing"),
    ('[limits]\nabv = "10..25%"', '[limits]\nabv = "10%"<', "one value where a range is wanted"),
    ('[limits]\nabv = "10..25%"', '[limits]\nstrenght = "10..25%"<', "is not a measure"),
    ('abv = "15..19%"', 'abv = ">=15%"', "has one end only"),
])  # fmt: skip
def test_a_profile(old: str, new: str, said: str) -> None:
    look("own.toml", PROFILE, _use_profile, old, new, said)


@each([
    ('ounce = "30 ml"', 'ounce = "0 ml"', "ounce holds nothing"),
    ('currency = "EUR"', 'currency = "euro"', "'euro'"),
    ('wash_line = "175 ml"', 'wash_line = "300 ml"', "not between nothing and the brim"),
    ('brim = "210 ml"', 'brim = ">=210 ml"', "the brim has no end"),
    ('[melt.stir]\nbefore = "95 g"\n', "[melt.stir]<\n", "before is missing"),
    ("[melt.stir]", "[melt.stir]<\nfactor = 1.1", "either weighed or a factor"),
    ('[melt.stir]\nbefore = "95 g"', '[melt.stir]<\nbefore = "195 g"',
     "the melt of 'stir' cannot be"),
])  # fmt: skip
def test_a_bar(old: str, new: str, said: str) -> None:
    look("bar.toml", BAR, read_bar_file, old, new, said)


@each([
    ("vodka,700", "gin,1000", "gin is on the shelf twice"),
    ("vodka,700", "vodka,0", "a bottle holds more than nothing"),
    ("bottle,price", "bottel,price", "looks like a slip of the pen for a column"),
    ("bottle,price", "price,price", "the column 'price' is there twice"),
    ("ingredient,bottle", "PK\x03\x04,bottle", "this is a workbook, not a CSV file"),
    ("ingredient,", "thing,", "the table has no column 'ingredient'"),
    ("vodka,700 ml,15,1 bottle,,", "vodka,700 ml,15,1 bottle,3/4/2026,",
     "day and month could stand in either order"),
    ("vodka,700 ml,15,1 bottle,,", "vodka,700 ml,15,1 bottle,31/31/2026,", "is not a date"),
    ("vodka,700 ml,15,1 bottle,,,", "vodka,700 ml,15,1 bottle,,abw=40%,",
     "'abw=40%' does not override a figure"),
    ("vodka,700 ml,15,1 bottle,,,", "vodka,700 ml,15,1 bottle,,abv=40%; abv=41%,",
     "abv is given twice"),
    ("vodka,700 ml,15,1 bottle,,,", "white-sugar,1 kg,2,1 kg,,sugar=90 g/100ml,", "it is weighed"),
])  # fmt: skip
def test_a_shelf(old: str, new: str, said: str) -> None:
    look("shelf.csv", SHELF, _use_shelf, old, new, said)
