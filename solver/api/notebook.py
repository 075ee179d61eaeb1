"""A drink as a table for notebooks. Everything is escaped by the template engine."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import TYPE_CHECKING

from jinja2 import Environment, Template

if TYPE_CHECKING:
    from solver.api.shared_fields import Answer, Existing, ForGuest

_PAGE = """\
<table>
<caption>{{ drink.name }}: {{ drink.technique }}{% if drink.glass %}, {{ drink.glass }}{% endif %}\
</caption>
{% for pour in drink.pours -%}
<tr><td>{{ pour.amount }}</td><th scope="row">{{ pour.ingredient }}</th></tr>
{% endfor -%}
{% for name, said in in_glass -%}
<tr><td>{{ said }}</td><th scope="row">{{ name }}</th></tr>
{% endfor -%}
</table>
{% for line in lines -%}
<p>{{ line }}</p>
{% endfor -%}
"""


@cache
def _template(text: str) -> Template:
    return Environment(autoescape=True).from_string(text)


def table(drink: Answer | Existing, lines: Sequence[str] = ()) -> str:
    """A drink as HTML: pours, what it is in the glass, what a guest must know; then `lines`."""
    made = drink.finished
    in_glass = [
        ("strength", f"{made.abv_pct:.1f} % vol"),
        ("sugar", f"{made.sugar_g_100ml:.1f} g/100 mL"),
        ("acid", f"{made.acid_g_100ml:.2f} g/100 mL"),
        ("volume", f"{made.volume_ml:.0f} mL"),
    ]
    guest: ForGuest = drink
    told = [f"Allergens: {', '.join(guest.allergens) or 'none stated'}"]
    unknown = ", ".join(guest.allergens_not_known)
    told += [f"Allergens not known: {unknown}"] if unknown else []
    return _template(_PAGE).render(drink=drink, in_glass=in_glass, lines=[*lines, *told])


_SAID = """\
<p><strong>{{ heading }}</strong></p>
{% for line in lines -%}
<p>{{ line }}</p>
{% endfor -%}
"""


def said(heading: str, lines: Sequence[str]) -> str:
    """Lines as HTML under a heading, where there is no drink."""
    return _template(_SAID).render(heading=heading, lines=lines)
