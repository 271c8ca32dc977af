"""What the team said it would do, what has moved since, and what was only just written down."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from app.access import Visit
from app.charts.pairs import Pair, pairs
from app.look import cards, evidence, words
from app.pages.parts import decide
from app.pages.parts.agenda import routine_names
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import support
from app.text import decisions as say
from app.text.places import unlinked

Pending = decide.Pending


def what_we_said(visit: Visit, school: Row, offers: pd.DataFrame, pending: Pending) -> None:
    """Every action that is due, under way or put off, with a form; then what rests or has ended."""
    names = routine_names(visit, school)
    rows = support.actions(visit.scope, school["school_id"]).to_dict("records")
    at_hand = [row for row in rows if row["standing_code"] in say.AT_HAND]
    below = offers[offers["is_to_consider"]]
    back = set(zip(below["class_id"], below["routine_id"], strict=True))
    with cards.card("said"):
        words.question("1 · What we said we would do, and what has moved")
        decide.what_was_written(pending)
        _only_just(visit, school, names, pending)
        if not rows and not pending:
            words.plain(say.NOTHING_YET)
        for row in at_hand:
            is_back = (row["class_id"], row["routine_id"]) in back
            _action(visit, school, row, names, is_back)
        if at_hand:
            evidence.legend("earlier", "since", "few", "line")
            words.note(say.COMPARED)
            evidence.as_table(say.actions_table(rows, names), "What we said we would do", "said")
        words.lines(say.at_rest_lines(rows, names, ask.setting(visit.scope, "offer_rest_days")))


def _action(visit: Visit, school: Row, row: Row, names: Mapping[str, str], is_back: bool) -> None:
    with cards.box(f"action-{row['decision_id']}"):
        told, drawn = cards.columns(1.9, 1)
        with told:
            words.row_name(say.action_name(row, names), say.when_decided(row))
            words.plain(say.what_moved(row))
            words.note(" ".join(part for part in (say.how_sure(row), say.quoted(row)) if part))
        with drawn:
            now, was, is_enough = say.then_and_later(row)
            spec = pairs([Pair("", now, was, is_enough)], float(school["criterion"]), name_width=0)
            words_of_it = unlinked(say.what_moved(row)).replace("**", "")
            evidence.picture(spec, words_of_it)
        if is_back:
            words.note(say.DECIDE_BELOW)
            return
        label = "Decide now" if row["standing_code"] == "due" else "Decide again"
        with cards.fold(label, f"decide-{row['decision_id']}"):
            decide.about(visit, school, row)


def _only_just(visit: Visit, school: Row, names: Mapping[str, str], pending: Pending) -> None:
    classes = support.classes(visit.scope, school["school_id"])
    titles = dict(zip(classes["class_id"], classes["title"], strict=True))
    said = []
    for (class_id, routine_id), some in pending.items():
        row: Row = {"class_title": titles.get(class_id, class_id), "routine_id": routine_id}
        said += [say.written_down(one.record, say.action_name(row, names)) for one in some]
    words.lines(said)
