"""Who may sign in is said on the command line, and every change ends the visits before it."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from io import StringIO
from pathlib import Path

import duckdb
import pytest
from argon2 import Type, extract_parameters

from app.door.accounts import Accounts
from ingest import accounts, passwords
from ingest.errors import UsageProblem
from ingest.workspace import Workspace
from tests.ingest.test_cli import run
from tests.ingest.worlds import AT, land, make_build, make_workspace

WORDS = "turnip ladder window"


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return make_workspace(tmp_path / "ws")


def asked(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace, *arguments: str, words: str = WORDS
) -> tuple[int, str, str]:
    """One `roundelay account` command with a password on its standard input."""
    monkeypatch.setattr("sys.stdin", StringIO(f"{words}\n"))
    return run("account", *arguments, "--workspace", str(workspace.root))


def stored(workspace: Workspace, column: str, name: str = "anna.berg") -> object:
    with closing(sqlite3.connect(workspace.root / accounts.FILE)) as connection:
        query = f"select {column} from account where account_name = ?"
        return connection.execute(query, [name]).fetchone()[0]


def test_an_account_is_made_listed_changed_and_closed(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    add = ("add", "Anna.Berg", "--role", "principal", "--shown", "Anna Berg")
    assert asked(monkeypatch, workspace, *add)[:2] == (
        0, "anna.berg may sign in and read as principal.\n",
    )  # fmt: skip
    assert "anna.berg  principal  open  Anna Berg" in asked(monkeypatch, workspace, "list")[1]
    versions = [stored(workspace, "version")]
    before = stored(workspace, "password_hash")
    asked(monkeypatch, workspace, "password", "ANNA.BERG", words="another four quiet words")
    versions.append(stored(workspace, "version"))
    assert stored(workspace, "password_hash") != before
    role = ("role", "anna.berg", "--role", "teacher", "--class", "room-1")
    assert asked(monkeypatch, workspace, *role)[0] == 0
    versions.append(stored(workspace, "version"))
    assert asked(monkeypatch, workspace, "close", "anna.berg")[0] == 0
    versions.append(stored(workspace, "version"))
    assert versions == [1, 2, 3, 4]
    assert stored(workspace, "password_hash") is None
    told = json.loads(asked(monkeypatch, workspace, "list", "--json")[1])
    assert told == [
        {
            "account_name": "anna.berg",
            "shown_name": "Anna Berg",
            "role": "teacher",
            "class_id": "room-1",
            "has_password": False,
            "is_closed": True,
            "changed_at": AT.isoformat(),
            "person_id": None,
        }
    ]


def test_an_account_says_who_somebody_is_in_the_people_file(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    add = ("add", "anna.berg", "--role", "support", "--person", "st-102")
    assert asked(monkeypatch, workspace, *add)[0] == 0
    assert "anna.berg  support  open  anna.berg  st-102" in asked(monkeypatch, workspace, "list")[1]
    assert "is st-103 in" in asked(monkeypatch, workspace, "person", "anna.berg", "st-103")[1]
    assert (stored(workspace, "person_id"), stored(workspace, "version")) == ("st-103", 2)
    assert asked(monkeypatch, workspace, "person", "anna.berg")[0] == 0
    assert stored(workspace, "person_id") is None


def test_a_pupil_or_nobody_of_the_people_file_is_not_taken_for_an_adult(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    with closing(duckdb.connect(workspace.landing)) as store:
        store.execute("create schema latest")
        store.execute(
            "create table latest.people as select * from (values ('st-1', 'teacher'), "
            "('pu-1', 'student')) as people (person_id, role)"
        )
    add = ("add", "anna.berg", "--role", "support", "--person")
    assert "key of a pupil" in asked(monkeypatch, workspace, *add, "pu-1")[2]
    assert "Nobody has this key" in asked(monkeypatch, workspace, *add, "st-2")[2]
    assert accounts.listed(workspace) == []
    assert asked(monkeypatch, workspace, *add, "st-1")[0] == 0
    assert asked(monkeypatch, workspace, "person", "anna.berg", "pu-1")[0] == 2
    assert stored(workspace, "person_id") == "st-1"


def test_a_file_of_the_first_layout_learns_who_somebody_is(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    accounts.add(workspace, "anna.berg", "Anna Berg", "support", None, "not a hash", AT)
    with closing(sqlite3.connect(workspace.root / accounts.FILE)) as connection:
        connection.execute("alter table account drop column person_id")
        connection.execute("pragma user_version = 1")
    assert [one.person_id for one in Accounts(workspace.root / accounts.FILE).all()] == [None]
    assert asked(monkeypatch, workspace, "person", "anna.berg", "st-102")[0] == 0
    assert [one.person_id for one in Accounts(workspace.root / accounts.FILE).all()] == ["st-102"]
    assert stored(workspace, "password_hash") == "not a hash"


def test_a_password_is_kept_as_argon2id_of_64_mib_and_nowhere_in_words(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    asked(monkeypatch, workspace, "add", "anna.berg", "--role", "support")
    kind = extract_parameters(str(stored(workspace, "password_hash")))
    assert (kind.type, kind.memory_cost, kind.time_cost, kind.parallelism) == (
        Type.ID, 65536, 3, 4,
    )  # fmt: skip
    assert WORDS.encode() not in (workspace.root / accounts.FILE).read_bytes()
    assert (workspace.root / accounts.FILE).stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("eleven char", "at least 12 characters, this one has 11"),
        ("", "at least 12 characters, this one has 0"),
        ("aaaaaaaaaaaaaaaa", "not one thing over and over"),
        ("abababababababab", "not one thing over and over"),
        ("xx anna.berg xx yy", "the name of the person"),
        ("at Quillbrook we sing", "the school"),
        ("Roundelay 2026 ok", "this tool"),
        ("x1 y2 z3 " * 112, "at most 1000"),
    ],
)
def test_a_password_that_is_easy_to_guess_is_turned_down(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace, words: str, told: str
) -> None:
    code, _, err = asked(
        monkeypatch, workspace, "add", "anna.berg", "--role", "support", words=words
    )
    assert code == 2
    assert told in err
    assert accounts.listed(workspace) == []


@pytest.mark.parametrize(
    "words", ["only small letters", "123456789012345", "שלוש מילים שקטות", " 12 characters"]
)
def test_no_kind_of_character_is_asked_for_or_forbidden(words: str) -> None:
    assert passwords.hashed(words).startswith("$argon2id$")


@pytest.mark.parametrize(
    "name",
    ["", "a", "-anna", "anna berg", "anna/berg", "a" * 65, "anna\n", "'; drop table account"],
)
def test_a_name_that_cannot_be_typed_is_refused(name: str) -> None:
    if name == "anna\n":
        assert accounts.plain_name(name) == "anna"
        return
    with pytest.raises(UsageProblem, match="cannot be used"):
        accounts.plain_name(name)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("add", "x1", "--role", "teacher"), "a teacher has one class"),
        (("add", "x1", "--role", "support", "--class", "room-1"), "nobody else has"),
        (("add", "x1", "--role", "teacher", "--class", "room-9"), "room-1, room-2"),
        (("password", "nobody"), "roundelay account list"),
        (("close", "nobody"), "roundelay account list"),
        (("sign-out",), "one name, or --everyone"),
        (("sign-out", "x1", "--everyone"), "one name, or --everyone"),
        (("sign-out", "nobody"), "roundelay account list"),
    ],
)
def test_what_cannot_be_done_is_told_with_its_remedy(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace, arguments: tuple[str, ...], told: str
) -> None:
    land(workspace)
    make_build(workspace)
    code, _, err = asked(monkeypatch, workspace, *arguments)
    assert code == 2
    assert told in err


def test_a_name_belongs_to_one_person_until_it_is_closed(workspace: Workspace) -> None:
    accounts.add(workspace, "anna", "", "support", None, None, AT)
    key = stored(workspace, "account_id", "anna")
    with pytest.raises(UsageProblem, match="already"):
        accounts.add(workspace, "ANNA", "", "steward", None, None, AT)
    accounts.close(workspace, "anna", AT)
    accounts.add(workspace, "anna", "", "steward", None, None, AT)
    assert stored(workspace, "account_id", "anna") != key
    assert [one.role for one in accounts.listed(workspace)] == ["steward"]


def test_ending_visits_is_written_down_with_its_moment(
    monkeypatch: pytest.MonkeyPatch, workspace: Workspace
) -> None:
    accounts.add(workspace, "anna", "", "support", None, None, AT)
    assert asked(monkeypatch, workspace, "sign-out", "anna")[0] == 0
    assert asked(monkeypatch, workspace, "sign-out", "--everyone")[0] == 0
    with closing(sqlite3.connect(workspace.root / accounts.FILE)) as connection:
        rows = connection.execute("select * from ended order by subject").fetchall()
    key = stored(workspace, "account_id", "anna")
    assert rows == [("*", AT.timestamp()), (f"account:{key}", AT.timestamp())]


def test_no_password_is_ever_an_argument(capsys: pytest.CaptureFixture[str]) -> None:
    for verb in ("add", "password"):
        run("account", verb, "--help")
        assert "--password" not in capsys.readouterr().out
