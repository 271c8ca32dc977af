"""Tiny invented OneRoster sets, whole and sound; each test spoils one thing."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from ingest.readers.oneroster_files import standard_files

Files = dict[str, list[dict[str, str]]]

_USERS = [
    ("t1", "teacher", "Ada", "Sample-Invented"),
    ("a1", "aide", "Bo", "Sample-Invented"),
    ("l1", "administrator", "Cy", "Sample-Invented"),
    ("g1", "guardian", "Dee", "Sample-Invented"),
    ("p1", "student", "Eli", "Sample-Invented"),
    ("p2", "student", "Fay", "Sample-Invented"),
    ("p3", "student", "Gus", "Sample-Invented"),
]


def sound_set(version: str = "1.1") -> Files:
    """One school, a year of three terms, two homerooms, a scheduled class; ends exclusive."""
    files: Files = {
        "orgs": [
            {"sourcedId": "d1", "name": "Lower Mere (invented)", "type": "district"},
            {
                "sourcedId": "s1",
                "name": "Quillbrook Primary (invented)",
                "type": "school",
                "parentSourcedId": "d1",
            },
        ],
        "academicSessions": [
            _session("y", "schoolYear", "2025-09-01", "2026-06-20", ""),
            _session("a", "term", "2025-09-01", "2025-12-20", "y"),
            _session("b", "term", "2026-01-05", "2026-03-28", "y"),
            _session("c", "term", "2026-03-28", "2026-06-20", "y"),
        ],
        "courses": [
            {"sourcedId": "co1", "title": "Year group", "grades": "01", "orgSourcedId": "s1"}
        ],
        "classes": [
            _class("c1", "Willow", "homeroom", "01"),
            _class("c2", "Hazel, the little ones", "homeroom", "KG,01"),
            _class("c3", "Music", "scheduled", "01"),
        ],
        "enrollments": [
            _enrolment("e1", "c1", "t1", "teacher", primary="true"),
            _enrolment("e2", "c1", "a1", "teacher", primary="false"),
            _enrolment("e3", "c1", "p1", "student"),
            _enrolment("e4", "c1", "p2", "student", end="2026-02-16"),
            _enrolment("e5", "c2", "p2", "student", begin="2026-02-16"),
            _enrolment("e6", "c3", "p1", "student"),
            _enrolment("e7", "c1", "l1", "administrator"),
        ],
        "users": [_user(version, *user) for user in _USERS],
    }
    if version == "1.2":
        files["roles"] = [
            {
                "sourcedId": f"r-{user}",
                "userSourcedId": user,
                "roleType": "primary",
                "role": {"administrator": "principal"}.get(role, role),
                "orgSourcedId": "s1",
            }
            for user, role, _, _ in _USERS
        ]
    return files


def write_set(
    path: Path,
    files: Files,
    version: str = "1.1",
    *,
    modes: dict[str, str] | None = None,
    manifest: str | None = None,
    texts: Mapping[str, str | bytes] | None = None,
    folder: str = "",
) -> Path:
    """Write a set as a zip; `modes`, `manifest` and `texts` replace what it would say by itself."""
    named = {name: "bulk" if name in files else "absent" for name in standard_files(version)}
    named |= modes or {}
    lines = ["propertyName,value", "manifest.version,1.0", f"oneroster.version,{version}"]
    lines += [f"file.{name},{mode}" for name, mode in named.items()]
    members: dict[str, str | bytes] = {"manifest.csv": manifest or "\n".join(lines) + "\n"}
    members |= {f"{name}.csv": text_of(name, rows, version) for name, rows in files.items()}
    members |= texts or {}
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in members.items():
            archive.writestr(f"{folder}{name}", text)
    return path


def text_of(name: str, rows: Iterable[dict[str, str]], version: str = "1.1") -> str:
    """Write one file in the standard's columns and order, with extension columns after them."""
    rows = list(rows)
    columns = list(standard_files(version)[name].columns)
    columns += sorted({column for row in rows for column in row} - set(columns))
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def as_changes(rows: list[dict[str, str]], status: str = "active") -> list[dict[str, str]]:
    """Mark rows as a file of changes does."""
    changed = {"status": status, "dateLastModified": "2026-03-02T08:15:00.000Z"}
    return [row | changed for row in rows]


def _session(key: str, kind: str, start: str, end: str, parent: str) -> dict[str, str]:
    return {
        "sourcedId": key,
        "title": f"Session {key}",
        "type": kind,
        "startDate": start,
        "endDate": end,
        "parentSourcedId": parent,
        "schoolYear": "2026",
    }


def _class(key: str, title: str, kind: str, grades: str) -> dict[str, str]:
    return {
        "sourcedId": key,
        "title": title,
        "grades": grades,
        "courseSourcedId": "co1",
        "classType": kind,
        "schoolSourcedId": "s1",
        "termSourcedIds": "a,b,c",
    }


def _enrolment(
    key: str,
    class_key: str,
    user: str,
    role: str,
    *,
    primary: str = "",
    begin: str = "2025-09-01",
    end: str = "2026-06-20",
) -> dict[str, str]:
    return {
        "sourcedId": key,
        "classSourcedId": class_key,
        "schoolSourcedId": "s1",
        "userSourcedId": user,
        "role": role,
        "primary": primary,
        "beginDate": begin,
        "endDate": end,
    }


def _user(version: str, key: str, role: str, given: str, family: str) -> dict[str, str]:
    private = {
        "username": f"{given}@example.invalid",
        "email": f"{given}@example.invalid",
        "sms": "555-0100",
        "phone": "555-0101",
        "agentSourcedIds": "g1",
        "password": "open-sesame",
        "identifier": "NATIONAL-77",
    }
    own = {"sourcedId": key, "enabledUser": "true", "givenName": given, "familyName": family}
    placed = {"orgSourcedIds": "s1", "role": role} if version == "1.1" else {}
    return own | placed | private
