"""The terms of one class beside each other, in numbers."""

from __future__ import annotations

import pandas as pd

from app.text import exact, words
from app.text.numbers import amount, amount_range
from app.text.places import linked
from app.text.readings import Reading, pick

MEASURES = {
    "dose": "Planned lessons given",
    "responsiveness": "In place when someone looked",
    "turn_coverage": "Children offered a turn",
}


def terms_table(rows: pd.DataFrame, terms: pd.DataFrame) -> pd.DataFrame:
    """A line a measure, a column a term; empty when no term has a number of the class yet."""
    found, is_any = [], False
    for name, title in MEASURES.items():
        line: dict[str, object] = {"": title}
        for term in terms.to_dict("records"):
            got = pick(rows, measure_name=name, routine_id="*", term_id=str(term["term_id"]))
            line |= _cell(str(term["title"]), got)
            is_any = is_any or got.is_known
        found.append(line)
    return pd.DataFrame(found if is_any else [])


def _cell(title: str, got: Reading) -> dict[str, object]:
    if not got.is_known:
        said = words.standing(got) if got.is_withheld else "nothing yet"
        return {title: said, **exact.share(title, None)}
    ends = amount_range(got.low, got.high, "share")
    share = linked(amount(got.value, "share"), got.place)
    few = "" if got.is_enough else ", few looks"
    return {
        title: f"{share} ({ends}{few})" if ends else share,
        **exact.share(title, got.value),
        **exact.share(f"{title}, low", got.low),
        **exact.share(f"{title}, high", got.high),
    }
