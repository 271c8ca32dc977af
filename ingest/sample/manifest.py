"""What was written and what was planted: the answers a test or an audit can check against."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path


@dataclass(frozen=True)
class PlantedSituation:
    """One named situation, where it is and what a careful reader of the data must find.

    `facts` holds the identifiers and sizes a test needs (for example `pupil_id`, `observer_id`).
    """

    name: str
    must_be_found: str
    first_on: date
    last_on: date
    class_id: str | None = None
    grade_code: str | None = None
    routine_id: str | None = None
    term_id: str | None = None
    facts: Mapping[str, str | float] | None = None


@dataclass(frozen=True)
class TrueShare:
    """The share of moments as agreed that a class truly has, before any look is drawn."""

    class_id: str
    routine_id: str
    term_id: str
    share: float


@dataclass(frozen=True)
class SampleManifest:
    """Everything a caller needs to load and to judge one invented school.

    `received_at` is the moment to load them at (the evening of the as-of date), so that no row lies
    in the future. `files` are the clean files to load; `alternatives` say the same in another form
    and stay out of a normal load; `row_counts` is by feed.
    """

    folder: Path
    seed: int
    school_id: str
    school_name: str
    time_zone: str
    as_of_on: date
    received_at: datetime
    files: tuple[Path, ...]
    alternatives: tuple[Path, ...]
    row_counts: Mapping[str, int]
    situations: tuple[PlantedSituation, ...]
    true_shares: tuple[TrueShare, ...]

    def situation(self, name: str) -> PlantedSituation:
        """The planted situation of this name; `KeyError` when it was not planted."""
        for one in self.situations:
            if one.name == name:
                return one
        raise KeyError(name)


@dataclass(frozen=True)
class FaultyFile:
    """One deliberately faulty file: what is wrong and what the door must say.

    `verdict` is refuse, quarantine, warn or known; `rows_set_aside` is the number of rows that must
    be held back, `rule_names` the rules that must be named.
    """

    path: Path
    feed: str
    verdict: str
    rule_names: tuple[str, ...]
    rows: int
    rows_set_aside: int
    what: str
