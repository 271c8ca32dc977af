"""What a followed command says: steps, verdicts of files, the answer at its end."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any


@dataclass(frozen=True)
class Finding:
    """One rule that a file met: where first, how often, and what to do."""

    rule: str
    verdict: str
    line: int | None
    column: str | None
    message: str
    remedy: str
    count: int


@dataclass(frozen=True)
class Verdict:
    """What became of one table of a file."""

    file_name: str
    feed: str
    status: str
    received: int
    accepted: int
    known: int
    quarantined: int
    refused: int
    findings: tuple[Finding, ...]
    correction_sheet: str | None


@dataclass(frozen=True)
class Trouble:
    """Why a command did not do what it was asked: what, where, which rule, what to do."""

    kind: str
    what: str
    where: str
    rule: str
    remedy: str


@dataclass(frozen=True)
class Heard:
    """All that was heard of a command so far. A total of 0 means: nobody knows how long."""

    label: str = ""
    done: int = 0
    total: int = 0
    verdicts: tuple[Verdict, ...] = field(default=())

    def with_line(self, line: str) -> Heard:
        """The same after one more line; what is no event of ours is passed over."""
        told = as_object(line)
        try:
            if told.get("event") == "step":
                return replace(
                    self,
                    label=str(told["label"]),
                    done=int(told["done"]),
                    total=int(told["total"]),
                )
            if told.get("event") == "file":
                return replace(self, verdicts=(*self.verdicts, _verdict(told)))
        except (KeyError, TypeError, ValueError):
            return self
        return self


def as_object(text: str) -> Mapping[str, Any]:
    """The object that a JSON text holds; an empty one when it holds none."""
    try:
        told = json.loads(text)
    except ValueError:
        return {}
    return told if isinstance(told, dict) else {}


def trouble_in(answer: str) -> Trouble | None:
    """The trouble that a command's answer tells of, None when it tells of none."""
    told = as_object(answer)
    if "problem" not in told:
        return None
    named = ("what", "where", "rule", "remedy")
    return Trouble(str(told["problem"]), *(str(told.get(name, "")) for name in named))


def _verdict(told: Mapping[str, Any]) -> Verdict:
    sheet = told["correction_sheet"]
    return Verdict(
        file_name=str(told["file_name"]),
        feed=str(told["feed"]),
        status=str(told["status"]),
        received=int(told["received"]),
        accepted=int(told["accepted"]),
        known=int(told["known"]),
        quarantined=int(told["quarantined"]),
        refused=int(told["refused"]),
        findings=tuple(_finding(one) for one in told["findings"]),
        correction_sheet=str(sheet) if sheet else None,
    )


def _finding(told: Mapping[str, Any]) -> Finding:
    line, column = told["line"], told["column"]
    return Finding(
        rule=str(told["rule"]),
        verdict=str(told["verdict"]),
        line=int(line) if line else None,
        column=str(column) if column else None,
        message=str(told["message"]),
        remedy=str(told["remedy"]),
        count=int(told["count"]),
    )
