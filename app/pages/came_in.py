"""What came in: every file and what became of its rows."""

from __future__ import annotations

from functools import partial

from app.access import Visit, here
from app.look import cards, evidence, replay, states, words
from app.pages.parts import around, choose
from app.pages.parts.choose import Row
from app.queries import school as ask
from app.queries import steward
from app.text import health


def show() -> None:
    """The ledger."""
    visit = here()
    heading, choices = around.top(visit)
    with choices:
        school = choose.the_school(visit)
    with heading:
        words.title("What came in", "Every file received, and what became of its rows.")
    replay.body("came-in", visit.scope, partial(_body, visit, school))
    around.bottom(visit)


def _body(visit: Visit, school: Row) -> None:
    total = ask.health_total(visit.scope, school["school_id"]).to_dict("records")[0]
    files, findings = steward.files(visit.scope), steward.findings(visit.scope)
    with cards.card("files"):
        words.lead(health.sentence(total))
        words.note(health.balance(files))
        if files.empty:
            states.nothing_here("Nothing has come in yet. The page “Bring in” takes files.")
        else:
            table = health.files_table(files)
            evidence.table(table, "Files received, the latest first", key="files")
    if not findings.empty:
        with cards.card("findings"):
            words.card_title("What was found in them")
            words.note("Each rule once for each file, with its first line and what to do about it.")
            with cards.fold("Show what was found", "show-findings"):
                table = health.findings_table(findings)
                name = "What was found, by file and rule"
                evidence.table(table, name, has_long_text=True, key="findings")


show()
