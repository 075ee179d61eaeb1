"""Steps of a recipe in German, translated to the lines that are read."""

from __future__ import annotations

import re

from solver.pantry.word_forms import spelled_out

_VERBS = {
    "koecheln": "simmer", "kochen": "simmer", "einkochen": "simmer", "ziehen": "steep",
    "einweichen": "steep", "abseihen": "strain", "passieren": "strain", "abkuehlen": "cool",
    "auskuehlen": "cool",
}  # fmt: skip
"""What is done, by the word that ends a German line: common usage, from memory."""
_WORDS = {
    "minute": "min", "minuten": "min", "stunde": "h", "stunden": "h", "tag": "day",
    "tage": "days", "tuch": "cloth", "passiertuch": "cloth", "sieb": "sieve", "filter": "filter",
    "papierfilter": "paper", "kaffeefilter": "paper", "bis": "to",
}  # fmt: skip
_FILLING = frozenset({"fuer", "etwa", "ca", "durch", "ein", "einen", "das", "den", "feines"})
_STEP = re.compile(rf"(?:(?P<rest>.*?)\s+)?(?P<verb>{'|'.join(_VERBS)})(?:\s+lassen)?")


def in_english(line: str) -> str:
    """A German step as an English one; any other line as it is."""
    found = _STEP.fullmatch(" ".join(spelled_out(line).split()).rstrip("."))
    if found is None:
        return line
    rest = (found["rest"] or "").replace("ueber nacht", "overnight")
    said = [_WORDS.get(word, word) for word in re.findall(r"[^\s]+", rest)]
    said = [word for word in said if word.rstrip(".") not in _FILLING]
    return " ".join([_VERBS[found["verb"]], *said])
