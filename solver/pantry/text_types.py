"""What a text in a file may hold, in the words of whoever writes it."""

from __future__ import annotations

from typing import Annotated

from solver.files.checked import FieldWords, Text, one_of
from solver.pantry import vocabulary as words

Amount = Annotated[Text, FieldWords("an amount, like 30 ml or 1 oz")]
AmountSpan = Annotated[Text, FieldWords("an amount or a range, like 3/4..2 oz")]
Weight = Annotated[Text, FieldWords("a weight, like 120 g")]
Strength = Annotated[Text, FieldWords("a strength, like 33%")]
Share = Annotated[Text, FieldWords("a share, like 20%")]
Temperature = Annotated[Text, FieldWords("a temperature, like 22 C")]
Brix = Annotated[Text, FieldWords("a reading, like 50.1 Brix")]
Time = Annotated[Text, FieldWords("a time, like 25 min")]
Currency = Annotated[Text, FieldWords("a code of three letters, like EUR")]
Span = Annotated[Text, FieldWords("a range with its unit, like 15..19%")]
Money = Annotated[Text, FieldWords("a price, like 28.50")]
Date = Annotated[Text, FieldWords("a date, like 2026-03-31")]
Stock = Annotated[Text, FieldWords("bottles or an amount, like 1.5 bottles")]
Lots = Annotated[Text, FieldWords("batches, like 900 ml made 2026-05-08 use by 2026-05-20")]
Overrides = Annotated[Text, FieldWords("figures, like abv=45%; sugar=20 g/100ml")]
PartKind = Annotated[str, one_of([*words.KINDS, *words.KIND_FAMILIES], "a kind")]
Moves = Annotated[str, one_of(words.MOVES, "when a pour moves")]
