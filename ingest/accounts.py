"""Who may sign in: the only writer of `accounts.sqlite` (its layout: accounts.sql).

A name is compared in lower case. Every change of a password, a role or a state raises the version
of the account, and visits that began under an older one are over.
"""

import re
import secrets
import sqlite3
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from ingest.errors import UsageProblem
from ingest.settings import READERS
from ingest.workspace import Workspace

FILE = "accounts.sqlite"
EVERYONE = "*"
_LAYOUT = Path(__file__).with_name("accounts.sql")
_NAME = re.compile(r"[^\W_][\w.@+-]{1,63}")


@dataclass(frozen=True)
class Account:
    """One account, without what its password is known by."""

    account_name: str
    shown_name: str
    role: str
    class_id: str | None
    has_password: bool
    is_closed: bool
    changed_at: str
    person_id: str | None = None

    def as_dict(self) -> Mapping[str, Any]:
        """The same for machines."""
        return dict(vars(self))


def plain_name(typed: str) -> str:
    """A name as it is kept; `UsageProblem` for one that cannot be."""
    name = unicodedata.normalize("NFKC", typed).strip().casefold()
    if _NAME.fullmatch(name):
        return name
    raise UsageProblem(
        f"The name {typed!r} cannot be used to sign in.",
        rule="2 to 64 letters, digits and . @ + - _, beginning with a letter or digit",
        remedy="for example: anna.berg",
    )


def listed(workspace: Workspace) -> list[Account]:
    """Every account, closed ones too, in the order in which they were made."""
    if not (workspace.root / FILE).exists():
        return []
    with _opened(workspace) as connection:
        rows = connection.execute(
            "select account_name, shown_name, role, class_id, password_hash is not null, is_closed,"
            " changed_at, person_id from account order by rowid"
        ).fetchall()
    return [
        Account(name, shown, role, class_id, bool(has_password), bool(is_closed), changed_at, who)
        for name, shown, role, class_id, has_password, is_closed, changed_at, who in rows
    ]


def has_any(workspace: Workspace) -> bool:
    """Whether anybody can sign in."""
    return any(not one.is_closed for one in listed(workspace))


def add(
    workspace: Workspace,
    typed: str,
    shown_name: str,
    role: str,
    class_id: str | None,
    password_hash: str | None,
    now: datetime,
    person_id: str | None = None,
) -> str:
    """A new account, or a closed one opened again; returns its name as it is kept.

    `person_id` is the person's key in the people file: what she watches is written down as hers.
    """
    name = plain_name(typed)
    _check_role(role, class_id)
    with _opened(workspace) as connection:
        known = connection.execute(
            "select is_closed from account where account_name = ?", [name]
        ).fetchone()
        if known and not known[0]:
            raise UsageProblem(
                f"There is an account '{name}' already.",
                rule="a name belongs to one person",
                remedy=f"choose another, or first: roundelay account close {name}",
            )
        connection.execute("delete from account where account_name = ?", [name])
        connection.execute(
            "insert into account values (?, ?, ?, ?, ?, ?, 1, 0, ?, ?, ?)",
            [secrets.token_hex(16), name, shown_name or name, role, class_id, password_hash,
             now.isoformat(), now.isoformat(), person_id],
        )  # fmt: skip
    return name


def set_password(workspace: Workspace, typed: str, password_hash: str, now: datetime) -> str:
    """Another password; every visit of this person is over."""
    return _change(workspace, typed, "password_hash = ?", [password_hash], now)


def set_role(
    workspace: Workspace, typed: str, role: str, class_id: str | None, now: datetime
) -> str:
    """Another role or class; every visit of this person is over."""
    _check_role(role, class_id)
    return _change(workspace, typed, "role = ?, class_id = ?", [role, class_id], now)


def set_person(workspace: Workspace, typed: str, person_id: str | None, now: datetime) -> str:
    """Who this is in the people file, or None: nobody; every visit of this person is over."""
    return _change(workspace, typed, "person_id = ?", [person_id], now)


def close(workspace: Workspace, typed: str, now: datetime) -> str:
    """Nobody signs in with this name any more; its visits are over."""
    return _change(workspace, typed, "is_closed = 1, password_hash = null", [], now)


def end_visits(workspace: Workspace, typed: str | None, now: datetime) -> None:
    """Every visit that began before now is over: of one person, or (None) of everyone."""
    with _opened(workspace) as connection:
        subject = EVERYONE if typed is None else f"account:{_key(connection, plain_name(typed))}"
        connection.execute(
            "insert into ended values (?, ?) on conflict (subject) do update "
            "set before_at = excluded.before_at",
            [subject, now.timestamp()],
        )


def _change(
    workspace: Workspace, typed: str, settings: str, values: list[str | None], now: datetime
) -> str:
    name = plain_name(typed)
    with _opened(workspace) as connection:
        key = _key(connection, name)
        connection.execute(
            f"update account set {settings}, version = version + 1, changed_at = ? "
            "where account_id = ?",
            [*values, now.isoformat(), key],
        )
    return name


def _key(connection: sqlite3.Connection, name: str) -> str:
    found = connection.execute(
        "select account_id from account where account_name = ? and is_closed = 0", [name]
    ).fetchone()
    if found is None:
        raise UsageProblem(
            f"There is no open account '{name}'.",
            rule="names are compared in lower case",
            remedy="see all of them with: roundelay account list",
        )
    return str(found[0])


def _check_role(role: str, class_id: str | None) -> None:
    if role not in READERS or (role == "teacher") != bool(class_id):
        raise UsageProblem(
            "This role cannot be given." if role in READERS else f"There is no role '{role}'.",
            rule="a teacher has one class, nobody else has: principal, support, steward, teacher",
            remedy="for example: --role teacher --class room-3",
        )


@contextmanager
def _opened(workspace: Workspace) -> Iterator[sqlite3.Connection]:
    """The file, readable by its owner alone, in one transaction."""
    path = workspace.root / FILE
    path.touch(mode=0o600, exist_ok=True)
    path.chmod(0o600)
    with closing(sqlite3.connect(path, timeout=5)) as connection:
        _bring_up_to_date(connection)
        connection.executescript(_LAYOUT.read_text(encoding="utf-8"))
        with connection:
            yield connection


def _bring_up_to_date(connection: sqlite3.Connection) -> None:
    """A file of the first layout gets the column that came with the second."""
    if connection.execute("pragma user_version").fetchone()[0] == 1:
        connection.execute("alter table account add column person_id text")
