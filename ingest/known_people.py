"""Adults of the people file by their keys, as the landing store knows them now."""

from ingest.errors import UsageProblem
from ingest.ledger_store import reading
from ingest.workspace import Workspace

_ADULT = "select role <> 'student' from latest.people where person_id = ?"
_COACH = "select min(person_id) from latest.people where role = 'coach'"
_TEACHER = """
    select person_id
    from latest.memberships
    where class_id = ? and role = 'teacher' and end_on is null
    order by coalesce(share, 1) desc, person_id
"""


def check_adult(workspace: Workspace, person_id: str) -> None:
    """Let a key through that stands for an adult; `UsageProblem` for a pupil or nobody.

    Before any people file was loaded nothing can be said; a key that turns out to be nobody's is
    then found when what she writes is loaded.
    """
    if not workspace.landing.exists():
        return
    with reading(workspace.landing) as store:
        if not store.execute("select 1 from latest.people limit 1").fetchone():
            return
        found = store.execute(_ADULT, [person_id]).fetchone()
    if found is None or not found[0]:
        what = "This is the key of a pupil" if found else "Nobody has this key"
        raise UsageProblem(
            f"{what} in the people file: {person_id}",
            rule="an account may say which adult of the people file it is",
            remedy="look for person_id in the people file, or leave --person out",
        )


def coach(workspace: Workspace) -> str | None:
    """The first coach of the people file; None when there is none."""
    with reading(workspace.landing) as store:
        found = store.execute(_COACH).fetchone()
    return found[0] if found else None


def teacher_of(workspace: Workspace, class_id: str) -> str | None:
    """Who teaches most in a class now; None when nobody is named."""
    with reading(workspace.landing) as store:
        found = store.execute(_TEACHER, [class_id]).fetchone()
    return found[0] if found else None
