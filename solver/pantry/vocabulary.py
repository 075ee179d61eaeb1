"""The closed lists of words that files may use, each with a short meaning."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

KINDS: dict[str, str] = {
    "spirit/vodka": "neutral spirit",
    "spirit/gin": "spirit flavoured with juniper",
    "spirit/whiskey": "grain spirit aged in wood",
    "spirit/rum": "spirit of sugar cane",
    "spirit/agave": "spirit of agave",
    "spirit/brandy": "spirit of wine or fruit",
    "spirit/anise": "unsweetened anise spirit, poured by the dash",
    "spirit/other": "any other spirit",
    "liqueur/orange": "liqueur of orange peel",
    "liqueur/fruit": "liqueur of other fruit",
    "liqueur/herb": "herbal liqueur, more sweet than bitter",
    "liqueur/bitter": "bitter liqueur, amari among them",
    "liqueur/nut": "liqueur of nuts or kernels",
    "liqueur/coffee": "coffee liqueur",
    "liqueur/cocoa": "cocoa liqueur",
    "liqueur/cream": "liqueur with cream",
    "liqueur/egg": "liqueur with egg",
    "liqueur/spice": "liqueur of spices",
    "liqueur/floral": "liqueur of flowers",
    "liqueur/honey": "honey liqueur",
    "liqueur/mint": "mint liqueur",
    "fortified/vermouth": "aromatised wine with wormwood",
    "fortified/aperitif": "aromatised wine, other",
    "fortified/sherry": "sherry",
    "fortified/port": "port",
    "fortified/madeira": "madeira",
    "wine/still": "still wine",
    "wine/sparkling": "sparkling wine",
    "wine/sake": "rice wine",
    "beer/lager": "pale beer",
    "beer/stout": "dark beer",
    "beer/cider": "cider",
    "bitters": "bitters, by the dash",
    "juice/sour": "juice that fills the sour part: lemon, lime, verjus",
    "juice/citrus": "other citrus juice",
    "juice/fruit": "other fruit juice",
    "juice/vegetable": "vegetable juice",
    "acid/solution": "acid dissolved in water",
    "acid/vinegar": "vinegar or a shrub's acid",
    "acid/powder": "dry acid, weighed",
    "syrup/plain": "sugar and water",
    "syrup/honey": "honey syrup",
    "syrup/agave": "agave syrup",
    "syrup/maple": "maple syrup",
    "syrup/molasses": "molasses",
    "syrup/fruit": "syrup with fruit",
    "syrup/spice": "syrup with spice or herbs",
    "syrup/nut": "syrup with nuts, orgeat among them",
    "syrup/cordial": "syrup with acid",
    "sugar": "dry sugar, weighed",
    "dairy/cream": "cream",
    "dairy/milk": "milk, and what takes its place",
    "egg/white": "egg white",
    "egg/whole": "whole egg",
    "egg/yolk": "egg yolk",
    "foam": "what foams without egg",
    "coconut": "coconut cream, milk and water",
    "brew/coffee": "coffee",
    "brew/tea": "tea",
    "mixer/soda": "soda water",
    "mixer/tonic": "tonic water",
    "mixer/ginger": "ginger ale and beer",
    "mixer/cola": "cola",
    "mixer/citrus": "citrus soda",
    "seasoning/saline": "salt solution, by the drop",
    "seasoning/savoury": "sauces, salts and flower waters",
    "water": "water",
    "raw/fruit": "fruit and its peel, to be cooked, pressed or steeped",
    "raw/vegetable": "vegetables and roots, to be cooked, pressed or steeped",
    "raw/spice": "dry spices and seeds",
    "raw/herb": "fresh herbs and flowers",
    "raw/nut": "nuts, whole or ground",
    "raw/tea": "tea leaves, dry flowers and ground coffee",
    "raw/fat": "butter and oil, for washing a spirit",
    "garnish": "what is eaten beside the drink",
}
KIND_FAMILIES = tuple(dict.fromkeys(kind.partition("/")[0] for kind in KINDS))
"""First steps of the kinds: what a profile's part may name to accept all of a family."""

CHARACTERS: dict[str, str] = {
    "oak": "wood of the cask",
    "molasses": "dark sugar",
    "juniper": "juniper",
    "smoke": "smoke and peat",
    "anise": "anise, fennel, liquorice",
    "bitter": "bitter herbs and roots",
    "citrus": "citrus peel or juice",
    "berry": "berries and currants",
    "stone-fruit": "cherry, peach, apricot, plum",
    "orchard": "apple, pear, quince",
    "tropical": "pineapple, passion fruit, coconut and the like",
    "grape": "grape and wine",
    "floral": "flowers",
    "herb": "green herbs",
    "mint": "mint",
    "warm-spice": "cinnamon, clove, nutmeg, allspice",
    "ginger": "ginger",
    "pepper": "pepper and chilli",
    "nut": "nuts",
    "coffee": "coffee",
    "cocoa": "cocoa and chocolate",
    "caramel": "caramel and toffee",
    "dairy": "milk and cream",
    "egg": "egg",
    "honey": "honey",
    "malt": "malted grain",
    "agave": "agave",
    "grain": "grain and bread",
    "cane": "sugar cane",
    "vegetal": "vegetables and grass",
    "vanilla": "vanilla",
    "almond": "almond and kernels",
    "earthy": "earth, roots, mushroom",
    "saline": "salt and sea",
    "tea": "tea",
}

ALLERGENS: dict[str, str] = {
    "gluten": "cereals containing gluten",
    "crustaceans": "crustaceans",
    "egg": "eggs",
    "fish": "fish",
    "peanut": "peanuts",
    "soy": "soybeans",
    "milk": "milk",
    "nuts": "tree nuts",
    "celery": "celery",
    "mustard": "mustard",
    "sesame": "sesame",
    "sulphites": "sulphur dioxide and sulphites",
    "lupin": "lupin",
    "molluscs": "molluscs",
}
DECLARATIONS: dict[str, str] = {
    "quinine": "quinine",
    "caffeine": "caffeine",
    "carmine": "carmine (cochineal)",
}
ANIMAL_ORIGINS: dict[str, str] = {
    "milk": "milk",
    "egg": "egg",
    "honey": "honey",
    "fish": "fish",
    "insect": "insects (carmine, shellac)",
    "meat": "meat, its fat or gelatine",
    "fining": "an animal product used to clear it",
}

BASES: dict[str, str] = {
    "published": "read in a published source",
    "definition": "true by definition",
    "computed": "computed from other figures",
    "practice": "common practice, no source",
    "memory": "from memory",
    "estimate": "estimated",
}
TOOLS: dict[str, str] = {
    "jigger": "poured from a jigger",
    "dash": "dashed from a bottle",
    "drop": "dropped from a pipette",
    "spoon": "measured in a bar spoon",
    "weigh": "weighed in grams",
    "piece": "counted",
}
TECHNIQUES: dict[str, str] = {
    "shake": "shaken with ice and strained",
    "shake-egg": "shaken with egg or foam",
    "stir": "stirred with ice and strained",
    "build": "built in the glass on ice",
    "blend": "blended with ice",
    "throw": "thrown between two tins",
    "swizzle": "swizzled in crushed ice",
    "julep": "built on crushed ice",
    "highball": "built over cubes with a mixer",
    "shake-top": "shaken, then topped in the glass",
    "stir-top": "stirred, then topped in the glass",
    "build-top": "built on ice, then topped",
    "hot": "served hot, without ice",
    "none": "poured without ice",
}
"""Names as in `solver.mixture.melt`, which is not imported here because it needs numpy."""
STAGES: dict[str, str] = {
    "first": "meets the ice",
    "top": "added after the ice has done its work",
}
STEPS: dict[str, str] = {
    "add": "put into the pan",
    "simmer": "kept just below the boil, uncovered",
    "steep": "left to draw, covered",
    "cool": "left to cool, covered",
    "strain": "poured through a sieve, a cloth or paper",
    "fine-filter": "run through paper until it is clear",
    "fortify": "given spirit, once cool",
}
STRAINERS: dict[str, str] = {
    "sieve": "a sieve, fine or coarse",
    "cloth": "a cloth or a nut-milk bag, pressed",
    "paper": "filter paper",
}
ACIDS: dict[str, str] = {
    "citric": "citric acid",
    "malic": "malic acid",
    "tartaric": "tartaric acid",
    "lactic": "lactic acid",
    "acetic": "acetic acid",
    "phosphoric": "phosphoric acid",
}


def near_words(word: str, known: Iterable[str], likeness: float = 0.6) -> tuple[str, ...]:
    """Up to three of the words `known` that are spelt like `word`, nearest first.

    `likeness` is how much of two words must agree, from 0 to 1.
    """
    return tuple(difflib.get_close_matches(word.lower()[:60], list(known), n=3, cutoff=likeness))


def kind_within(kind: str, accepted: str) -> bool:
    """Whether `kind` is `accepted` or lies below it: "spirit/rum" within "spirit"."""
    return kind == accepted or kind.startswith(f"{accepted}/")
