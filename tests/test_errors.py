"""What a mistake says, whatever the user wrote."""

import pickle

from hypothesis import given
from hypothesis import strategies as st

from solver.errors import BadInput, Where


@given(st.text(), st.text(), st.text(), st.lists(st.text(), max_size=3))
def test_a_sentence_can_always_be_printed(what: str, why: str, file: str, near: list[str]) -> None:
    sentence = BadInput(what, where=Where(file, 1), why=why, near=near).sentence()
    assert sentence.isprintable()


def test_a_sentence_says_what_where_why_and_what_to_do() -> None:
    error = BadInput(
        "'gni' is not known", where=Where("shelf.csv", 3), why="no such row", remedy="Add it.",
        near=["gin"],
    )  # fmt: skip
    said = "'gni' is not known (shelf.csv, line 3): no such row. Did you mean gin? Add it."
    assert error.sentence() == said
    assert str(pickle.loads(pickle.dumps(error))) == said  # noqa: S301


def test_what_cannot_be_printed_is_written_out() -> None:
    assert BadInput("a tab '\t' here").sentence() == "a tab '\\t' here."
