"""How much a drink is in keeping, in words: what books and the bar say, never what tastes good."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from solver.drinks.answer import Answer
from solver.harmony.count_arrays import Tally
from solver.harmony.evidence import Evidence
from solver.harmony.flavours import NOT_PRINTED, Flavour
from solver.harmony.pairs import PairEvidence
from solver.harmony.taste import NEUTRAL
from solver.show.text.tasted import tasted_words

Names = Callable[[Flavour], str]
"""What a flavour is called: the name of the bottle that is poured of it."""

UNUSUAL = -0.7
"""Worth of a pair from which it is called unusual: met half as often as chance would have it."""
BY_CHANCE = 0.1
"""Probability above which so few drinks with a pair may be chance, and nothing is said: our own
choice, by a Poisson distribution."""
ALWAYS = 0.8
"""Share of a profile's drinks from which what fills a part makes the profile, and is no choice of
which anybody would say that it is unusual: our own choice."""


def in_keeping_lines(answer: Answer) -> list[str]:
    """What speaks for a drink, by counts; empty if nothing is known."""
    if answer.evidence is None:
        return []
    said = in_keeping_line(answer.evidence, names_in(answer))
    return [said] if said else []


def pair_lines(answer: Answer) -> list[str]:
    """Every two ingredients of a drink of which something is known, most in keeping first."""
    if answer.evidence is None:
        return []
    told = sorted(filter(_tells, answer.evidence.pairs), key=lambda pair: -pair.worth)
    return [pair_sentence(pair, names_in(answer)) for pair in told]


def names_in(answer: Answer) -> Names:
    """What the flavours of a drink are called: by its bottles."""
    parts = answer.evidence.parts if answer.evidence else ()
    names = {
        flavour.name: item.name
        for part in parts
        for flavour, _ in part.filled
        for item in answer.ingredients
        if item.key in flavour.bottles
    }
    return lambda flavour: names.get(flavour.name, flavour.name)


def in_keeping_line(evidence: Evidence, name: Names) -> str:
    """The pair that speaks most for a drink, with its base if any does; the one that is most
    unusual; what the bar tasted; and what nothing is known of.
    """
    told = sorted((pair for pair in evidence.pairs if _tells(pair)), key=lambda pair: -pair.worth)
    base = {flavour for part in evidence.parts[:1] for flavour, _ in part.filled}
    for_it = [pair for pair in told if pair.worth > 0]
    with_base = [pair for pair in for_it if base & {pair.one, pair.other}]
    always = {f for part in evidence.parts for f, share in part.filled if share.share >= ALWAYS}
    against = [p for p in told if _is_unusual(p) and not always & {p.one, p.other}]
    chosen = [*(with_base or for_it)[:1], *against[-1:]]
    if evidence.tasted is None:
        chosen += [pair for pair in _most_tasted(told) if pair not in chosen]
    said = [pair_sentence(pair, name) for pair in chosen]
    if evidence.tasted is not None:
        said.append(f"Your bar tasted it {tasted_words(evidence.tasted)}.")
    unknown = [name(each) for each in evidence.unknown if each.why_unknown == NOT_PRINTED]
    if unknown:
        known_by = "it" if len(unknown) == 1 else "them"
        poured = f"No published drink that was counted pours {' or '.join(unknown)}"
        said.append(f"{poured}; the rest was judged without {known_by}.")
    if not said and told:  # seldomer than by chance, and not so seldom that it is unusual
        said.append(pair_sentence(told[0], name))
    if not said and evidence.pairs:
        said.append("No two of these are poured together in published drinks.")
    return " ".join(said)


def _most_tasted(pairs: Sequence[PairEvidence]) -> list[PairEvidence]:
    """The pair of which the bar's tastings say most, if they say anything."""
    scores = [(pair, pair.tasted.mean - NEUTRAL) for pair in pairs if pair.tasted]
    told = [(pair, score) for pair, score in scores if score]
    return [max(told, key=lambda each: abs(each[1]))[0]] if told else []


def pair_sentence(pair: PairEvidence, name: Names) -> str:
    """What is known of two flavours together, with its counts."""
    one, other = name(pair.one), name(pair.other)
    clauses: list[str] = []
    if pair.printed is not None and _counted(pair.printed):
        met, drinks, expected = pair.printed.met, pair.printed.drinks, pair.printed.expected
        clauses.append(f"{met} of {drinks} published drinks, {expected:.1f} expected by chance")
    if pair.own:
        clauses.append(f"{pair.own} of the bar's specs")
    if pair.tasted:
        clauses.append(f"in drinks that your bar tasted {tasted_words(pair.tasted)}")
    if pair.said:
        clauses.append("the bar says so" if pair.said > 0 else "the bar says rather not")
    if pair.stated:
        clauses.append("usual in such drinks, by common practice")
    if pair.practice:
        clauses.append(f"common practice: {pair.practice}")
    unusual = ", unusual" if _is_unusual(pair) else ""
    said = "; ".join(clauses) or "nothing is known"
    return f"{one[:1].upper()}{one[1:]} with {other}{unusual}: {said}."


def _is_unusual(pair: PairEvidence) -> bool:
    """Whether two are met seldomer than chance would have it, and that is no chance."""
    if pair.worth > UNUSUAL:
        return False
    if pair.printed is None:
        return True
    met, expected = pair.printed.met, pair.printed.expected
    terms = (expected**k / math.factorial(k) for k in range(met + 1))
    return math.exp(-expected) * math.fsum(terms) <= BY_CHANCE


def _tells(pair: PairEvidence) -> bool:
    """Whether anything more is known of two than that they are seldom poured at all."""
    counted = pair.printed is not None and _counted(pair.printed)
    return bool(counted or pair.own or pair.tasted or pair.said or pair.stated or pair.practice)


def _counted(printed: Tally) -> bool:
    """Whether the counts of two tell anything: met at all, or to be expected."""
    return printed.met > 0 or printed.expected >= 1
