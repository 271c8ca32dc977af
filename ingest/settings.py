"""The settings of one workspace: one closed TOML file, read with defaults.

Unknown names are refused with the nearest known one, so that a slip of the pen never quietly leaves
a default in force.
"""

import difflib
import hashlib
import json
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any
from zoneinfo import available_timezones

from ingest import settings_sign_in, settings_watch
from ingest.errors import WorkspaceProblem
from ingest.settings_sign_in import SignIn
from ingest.settings_watch import Watch
from ingest.thresholds import THRESHOLDS, Threshold, defaults

__all__ = ["THRESHOLDS", "Retention", "Roster", "Settings", "SignIn", "Threshold", "Watch", "load"]

AUDIENCES = ("school", "support", "steward", "room")
END_DATES = ("auto", "last_day", "day_after")
READERS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "principal": ("school",),
        "support": ("school", "support"),
        "steward": ("school", "steward"),
        "teacher": ("school", "room"),
    }
)
_SCHOOL_KEYS = ("id", "name", "time_zone", "demo")


@dataclass(frozen=True)
class Retention:
    """How many published builds are kept to go back to, and for how many days the running round of
    a class in which nobody draws any more."""

    keep_builds: int = 5
    keep_rounds_days: int = 60


@dataclass(frozen=True)
class Roster:
    """How a roster file is read. `end_dates`: auto tells last_day or day_after from the file."""

    end_dates: str = "auto"
    equity_reports: bool = False


@dataclass(frozen=True)
class Settings:
    """What a school has set; everything it left out is at its default."""

    school_id: str
    school_name: str
    time_zone: str = "UTC"
    is_demo: bool = False
    thresholds: Mapping[str, float] = field(default_factory=defaults)
    retention: Retention = field(default_factory=Retention)
    roster: Roster = field(default_factory=Roster)
    readers: Mapping[str, tuple[str, ...]] = field(default_factory=lambda: READERS)
    sign_in: SignIn = field(default_factory=SignIn)
    watch: Watch = field(default_factory=Watch)

    @property
    def digest(self) -> str:
        """A short fingerprint of every value that can change a build.

        How people sign in and how the inbox is watched cannot.
        """
        text = json.dumps(self.as_dict(), sort_keys=True, ensure_ascii=False)
        return hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]

    def as_dict(self) -> dict[str, Any]:
        """All settings as plain values."""
        return {
            "school_id": self.school_id,
            "school_name": self.school_name,
            "time_zone": self.time_zone,
            "is_demo": self.is_demo,
            "thresholds": dict(self.thresholds),
            "retention": asdict(self.retention),
            "roster": asdict(self.roster),
            "readers": {name: list(parts) for name, parts in self.readers.items()},
        }


def load(path: Path) -> Settings:
    """Read `roundelay.toml`; `WorkspaceProblem` names the setting that is not right."""
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError:
        raise WorkspaceProblem(
            "The settings file is not there.", where=str(path), remedy="make it with: roundelay new"
        ) from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise WorkspaceProblem(
            "The settings file cannot be read.",
            where=str(path),
            rule=f"it is written in TOML: {fault}",
            remedy="correct that line; text stands in double quotes",
        ) from fault
    return _Reader(path).settings(raw)


@dataclass(frozen=True)
class _Reader:
    """Turns the parsed file into settings; knows the file's name for its messages."""

    path: Path

    def settings(self, raw: Mapping[str, Any]) -> Settings:
        tables = ("school", "thresholds", "retention", "roster", "readers", "sign_in", "watch")
        self._closed(raw, tables, "")
        parts = {name: self._table(raw, name) for name in tables}
        school = parts["school"]
        self._closed(school, _SCHOOL_KEYS, "school.")
        return Settings(
            school_id=self._text(school, "id"),
            school_name=self._text(school, "name"),
            time_zone=self._zone(school.get("time_zone", "UTC")),
            is_demo=self._flag(school, "demo", "school."),
            thresholds=MappingProxyType(self._thresholds(parts["thresholds"])),
            retention=self._retention(parts["retention"]),
            roster=self._roster(parts["roster"]),
            readers=MappingProxyType(self._readers(parts["readers"])),
            sign_in=settings_sign_in.read(parts["sign_in"], self.path, self._closed),
            watch=settings_watch.read(parts["watch"], self.path, self._closed),
        )

    def _problem(self, name: str, what: str, rule: str, remedy: str) -> WorkspaceProblem:
        return WorkspaceProblem(what, where=f"{self.path}: {name}", rule=rule, remedy=remedy)

    def _closed(self, given: Mapping[str, Any], known: Iterable[str], prefix: str) -> None:
        names = list(known)
        for name in given:
            if name not in names:
                near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
                remedy = (
                    f"did you mean {prefix}{near[0]}?" if near else f"known are: {', '.join(names)}"
                )
                raise self._problem(
                    f"{prefix}{name}", "This setting is not known.", "unknown settings stop", remedy
                )

    def _table(self, raw: Mapping[str, Any], name: str) -> Mapping[str, Any]:
        value = raw.get(name, {})
        if not isinstance(value, dict):
            raise self._problem(
                name,
                "This must be a section.",
                f"write [{name}] on a line",
                "then one value a line",
            )
        return value

    def _text(self, school: Mapping[str, Any], name: str) -> str:
        value = school.get(name, "")
        if not isinstance(value, str) or not value.strip():
            raise self._problem(
                f"school.{name}", "This setting is missing.", "text, not empty", f'{name} = "..."'
            )
        return value.strip()

    def _flag(self, table: Mapping[str, Any], name: str, prefix: str) -> bool:
        value = table.get(name, False)
        if not isinstance(value, bool):
            raise self._problem(
                f"{prefix}{name}",
                "This is not true or false.",
                "true or false, no quotes",
                "fix it",
            )
        return value

    def _zone(self, value: object) -> str:
        zones = available_timezones()
        if isinstance(value, str) and value in zones:
            return value
        near = difflib.get_close_matches(str(value), sorted(zones), n=1, cutoff=0.5)
        remedy = f'did you mean "{near[0]}"?' if near else 'for example "Europe/Dublin"'
        raise self._problem(
            "school.time_zone",
            f"The time zone {value!r} is not known.",
            "a name of the time zone database",
            remedy,
        )

    def _thresholds(self, given: Mapping[str, Any]) -> dict[str, float]:
        self._closed(given, THRESHOLDS, "thresholds.")
        return {**defaults(), **{name: self._number(name, given[name]) for name in given}}

    def _number(self, name: str, value: object) -> float:
        one = THRESHOLDS[name]
        kinds = int if one.is_whole else int | float
        is_number = isinstance(value, kinds) and not isinstance(value, bool)
        if is_number and one.lowest <= value <= one.highest:  # type: ignore[operator]
            return value  # type: ignore[return-value]
        kind = "a whole number" if one.is_whole else "a number"
        raise self._problem(
            f"thresholds.{name}",
            f"The value {value!r} cannot be used.",
            f"{kind} from {one.lowest:g} to {one.highest:g}: {one.description}",
            f"the default is {one.default:g}",
        )

    def _retention(self, given: Mapping[str, Any]) -> Retention:
        defaults = asdict(Retention())
        self._closed(given, defaults, "retention.")
        for name, default in defaults.items():
            value = given.get(name, default)
            if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 1000:
                raise self._problem(
                    f"retention.{name}",
                    f"{value!r} cannot be used.",
                    "1 to 1000",
                    f"the default is {default}",
                )
        return Retention(**{**defaults, **given})

    def _roster(self, given: Mapping[str, Any]) -> Roster:
        self._closed(given, ("end_dates", "equity_reports"), "roster.")
        end_dates = given.get("end_dates", "auto")
        if end_dates not in END_DATES:
            raise self._problem(
                "roster.end_dates", f"{end_dates!r} is not known.", " or ".join(END_DATES), "auto"
            )
        return Roster(end_dates, self._flag(given, "equity_reports", "roster."))

    def _readers(self, given: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
        self._closed(given, READERS, "readers.")
        return {name: self._audiences(name, given.get(name, READERS[name])) for name in READERS}

    def _audiences(self, name: str, value: Iterable[str]) -> tuple[str, ...]:
        parts = tuple(value) if isinstance(value, list | tuple) else ()
        allowed = AUDIENCES if name == "teacher" else AUDIENCES[:3]
        if not parts or any(part not in allowed for part in parts):
            raise self._problem(
                f"readers.{name}",
                f"{value!r} cannot be used.",
                "a list of: " + ", ".join(allowed) + " (a room is read by its own teacher only)",
                f"the default is {list(READERS[name])}",
            )
        return parts
