"""One tablet of the simulation: it writes records down and sends them over a very bad net.

It keeps the rules of the page's own queue (app/classroom/static/store.js and send.js): a record is
on the device before anything is sent, at most twenty go at once in the order in which they were
made, and one leaves only when the server has answered for it.
"""

from __future__ import annotations

import http.client
import json
import random
from collections import Counter
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

AT_ONCE = 20
Record = dict[str, Any]


@dataclass
class Net:
    """What goes wrong on the way, as shares of all requests, and the cookie's name."""

    never_sent: float = 0.10
    answer_lost: float = 0.15
    patience_seconds: float = 5.0


@dataclass
class Tablet:
    """A device with its own queue on the disk; `made` is the truth that nothing may differ from."""

    number: int
    port: int
    cookie: str
    person: str
    folder: Path
    days: list[str]
    net: Net
    chance: random.Random
    made: dict[tuple[str, int], Record] = field(default_factory=dict)
    tried: Counter[str] = field(default_factory=Counter)

    def write(self) -> None:
        """A new lesson or look, or a change or withdrawal of an earlier one, onto the device."""
        kind = self.chance.random()
        if self.made and kind < 0.2:
            record = self._changed(is_withdrawn=kind < 0.06)
        elif kind < 0.35:
            record = self._look()
        else:
            record = self._lesson()
        name = f"{len(self.made):06d}.json"
        self.made[record["key"], record["revision"]] = record
        part = self.folder / f".{name}"
        part.write_text(json.dumps(record), "utf-8")
        part.replace(self.folder / name)

    def waiting(self) -> list[Path]:
        """What is still on the device, the oldest first: all that a reload leaves of a page."""
        return sorted(self.folder.glob("*.json"))

    def send(self) -> bool:
        """One try with one batch; whether the server has answered for any of it."""
        batch = self.waiting()[:AT_ONCE]
        if not batch:
            return True
        records = [json.loads(path.read_text("utf-8")) for path in batch]
        luck = self.chance.random()
        if luck < self.net.never_sent:
            self.tried["never sent"] += 1
            return False
        is_lost = luck < self.net.never_sent + self.net.answer_lost
        answers = self._post({"device": f"tablet {self.number}", "records": records}, is_lost)
        for path, answer in zip(batch, answers, strict=False):
            self.tried[answer["outcome"]] += 1
            if answer["outcome"] in ("kept", "known"):
                path.unlink()
            elif answer["outcome"] == "refused":
                raise AssertionError(f"a good record was refused: {answer}")
        return bool(answers)

    def _post(self, body: object, is_lost: bool) -> list[dict[str, Any]]:
        talk = http.client.HTTPConnection("127.0.0.1", self.port, timeout=self.net.patience_seconds)
        headers = {"Content-Type": "application/json", "Cookie": f"roundelay={self.cookie}"}
        try:
            talk.request("POST", "/api/classroom/records", json.dumps(body), headers)
            if is_lost and self.chance.random() < 0.5:
                self.tried["hung up"] += 1
                return []
            answer = talk.getresponse()
            told = answer.read()
            if is_lost:
                self.tried["answer lost"] += 1
                return []
            if answer.status != 200:
                self.tried[f"status {answer.status}"] += 1
                return []
            found: list[dict[str, Any]] = json.loads(told)["answers"]
        except (TimeoutError, OSError, http.client.HTTPException, ValueError):
            self.tried["nobody there"] += 1
            return []
        else:
            self.tried["answered"] += 1
            return found
        finally:
            talk.close()

    def _key(self) -> str:
        return str(UUID(int=self.chance.getrandbits(128), version=4))

    def _record(
        self, feed: str, cells: dict[str, str], rows: list[dict[str, str]] | None
    ) -> Record:
        own = {"key": self._key(), "revision": 1, "feed": feed, "by": self.person}
        return {**own, "cells": cells, "rows": rows}

    def _lesson(self) -> Record:
        cells = {
            "routine_id": "settle", "taught_on": self.chance.choice(self.days),
            "lesson_kind": "reminder", "mode": "in_person", "status": "delivered",
            "minutes": "1", "note": f"tablet {self.number}, {len(self.made)}",
        }  # fmt: skip
        return self._record("routine_lessons", cells, None)

    def _look(self) -> Record:
        cells = {
            "routine_id": "settle", "observed_on": self.chance.choice(self.days),
            "minutes_observed": "5", "taught_by_role": "teacher", "purpose": "routine",
            # Two looks that say exactly the same under two keys are set aside, as they should be.
            "activity": f"tablet {self.number}, {len(self.made)}",
        }  # fmt: skip
        rows = [
            {"row_number": str(n), "row_type": "moment", "code": self.chance.choice(_CODES)}
            for n in range(1, self.chance.randint(5, 30))
        ]
        return self._record("observation_sessions", cells, rows)

    def _changed(self, *, is_withdrawn: bool) -> Record:
        key = self.chance.choice([key for key, _ in self.made])
        last = self.made[key, max(n for one, n in self.made if one == key)]
        cells = {**last["cells"]}
        if is_withdrawn:
            cells["voided"] = "true"
        elif last["feed"] == "routine_lessons":
            cells["note"] = f"tablet {self.number}, changed {len(self.made)}"
            cells.pop("voided", None)
        else:
            cells["minutes_observed"] = str(self.chance.randint(3, 60))
            cells.pop("voided", None)
        rows = last["rows"] and last["rows"][: self.chance.randint(1, len(last["rows"]))]
        return {**last, "revision": last["revision"] + 1, "cells": cells, "rows": rows}


_CODES = ("expected", "not_expected", "accommodated", "not_visible")


def school_days(first: date, last: date) -> list[str]:
    """Weekdays of a stretch of time."""
    every = (first + timedelta(days=n) for n in range((last - first).days + 1))
    return [day.isoformat() for day in every if day.weekday() < 5]
