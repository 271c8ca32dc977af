"""The invented school, made and loaded through the same door as any school's own files.

What was made is marked; while the mark fits, the next start makes nothing anew. The mark covers the
seed and the very source files that the result depends on.
"""

import hashlib
import json
import shutil
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from rich.console import Console

from ingest import (
    accounts,
    build,
    durable,
    intake,
    known_people,
    pointer,
    sample,
    settings,
    snapshot,
    start,
)
from ingest.errors import UsageProblem
from ingest.load import FileReport
from ingest.sample import FaultyFile, SampleManifest
from ingest.settings import Settings
from ingest.steps import Progress, no_progress
from ingest.workspace import Workspace

MARK = "demo.json"
FILES = "files"
_ROOT = Path(__file__).resolve().parents[1]
_SOURCES = ("ingest/**/*.py", "ingest/**/*.yml", "dbt_project/**/*.sql", "dbt_project/**/*.yml",
            "dbt_project/**/*.csv")  # fmt: skip


_PEOPLE = (
    ("principal", "Rowan Ashdown (invented)", "principal"),
    ("support", "Imke Solberg (invented)", "support"),
    ("steward", "Tadeo Quill (invented)", "steward"),
    ("teacher", "Maren Oyelaran (invented)", "teacher"),
)


@dataclass(frozen=True)
class Planted:
    """One file that is wrong on purpose, and what the door made of it."""

    file_name: str
    what: str
    status: str
    set_aside: int
    refused: int
    correction_sheet: str | None


@dataclass(frozen=True)
class Demo:
    """A prepared demo: where, what was loaded, what was set aside on purpose, how long it took."""

    workspace: Workspace
    build_id: str
    is_new: bool
    row_counts: Mapping[str, int]
    planted: tuple[Planted, ...]
    seconds: Mapping[str, float]

    def as_dict(self) -> dict[str, Any]:
        """The same for machines."""
        return {
            "workspace": str(self.workspace.root),
            "build_id": self.build_id,
            "is_new": self.is_new,
            "row_counts": dict(self.row_counts),
            "planted": [asdict(one) for one in self.planted],
            "seconds": dict(self.seconds),
        }


@dataclass(frozen=True)
class School:
    """What the demo is made with; tests put a smaller school and another maker in."""

    generate: Callable[[Path], SampleManifest] = sample.generate
    faulty: Callable[[Path, SampleManifest], Sequence[FaultyFile]] = sample.faulty
    maker: build.Maker | None = None
    seed: int = sample.DEFAULT_SEED


def prepare(
    folder: Path,
    now: Callable[[], datetime],
    progress: Progress = no_progress,
    school: School | None = None,
    stopwatch: Callable[[], float] = time.monotonic,
) -> Demo:
    """Make the demo in `folder`, or find it there as it was made. Never touches a real school."""
    school = school or School()
    workspace = Workspace(folder)
    mark = _mark(school)
    known = _known(workspace, mark)
    if known is not None:
        return known
    _clear(workspace)
    laps = [stopwatch()]
    progress("inventing a school", 0, 0)
    clean = school.generate(workspace.root / FILES)
    bad = school.faulty(workspace.root / FILES / "faulty", clean)
    own = _settle(workspace, clean)
    laps.append(stopwatch())
    at = clean.received_at
    reports = intake.load(clean.files, workspace, own, at, progress)
    reports += intake.load([one.path for one in bad], workspace, own, at, progress)
    laps.append(stopwatch())
    built = build.run(workspace, own, clean.as_of_on, now(), progress, school.maker)
    laps.append(stopwatch())
    _let_in(workspace, now())
    parts = zip(("inventing", "loading", "building"), laps[:-1], laps[1:], strict=True)
    made = Demo(
        workspace=workspace,
        build_id=built.build_id,
        is_new=True,
        row_counts=_row_counts(reports),
        planted=tuple(_planted(one, reports) for one in bad),
        seconds={name: round(end - begin, 1) for name, begin, end in parts},
    )
    told = {"mark": mark, "demo": made.as_dict()}
    durable.write_text(workspace.root / MARK, json.dumps(told, indent=1, ensure_ascii=False))
    return made


def tell(console: Console, made: Demo) -> None:
    """A short friendly summary."""
    place = made.workspace.root
    if not made.is_new:
        console.print(f"The invented school is ready in {place} (made before).", soft_wrap=True)
        return
    rows = sum(made.row_counts.values())
    console.print(
        f"An invented school, in {place}: {rows:,} rows in {len(made.row_counts)} tables, "
        "loaded through the same door as any school's files.",
        soft_wrap=True,
    )
    console.print("Some files are wrong on purpose. What became of them:")
    for one in made.planted:
        console.print(f"  {one.file_name}: {one.what}", soft_wrap=True)
        console.print(f"    {_became(one)}", soft_wrap=True)
    took = ", ".join(f"{name} {seconds:.1f} s" for name, seconds in made.seconds.items())
    console.print(f"Time: {took}. The files themselves are in {place / FILES}.", soft_wrap=True)


def _became(one: Planted) -> str:
    if one.status == "refused":
        return "The whole file was refused; nothing of it was kept."
    if not one.set_aside:
        return "Nothing was set aside: it was known already, or loaded with a remark."
    sheet = f" Correct them in {one.correction_sheet}" if one.correction_sheet else ""
    rows = "1 row was" if one.set_aside == 1 else f"{one.set_aside} rows were"
    return f"{rows} set aside, the others kept.{sheet}"


def _mark(school: School) -> str:
    """A fingerprint of the seed and of every source file that the result depends on."""
    digest = hashlib.sha256(str(school.seed).encode())
    for pattern in _SOURCES:
        for path in sorted(_ROOT.glob(pattern)):
            if "target" not in path.parts:
                digest.update(path.relative_to(_ROOT).as_posix().encode())
                digest.update(path.read_bytes())
    return digest.hexdigest()


def _known(workspace: Workspace, mark: str) -> Demo | None:
    try:
        told = json.loads((workspace.root / MARK).read_text(encoding="utf-8"))
        if told["mark"] != mark or pointer.read(workspace) is None:
            return None
        was = told["demo"]
        return Demo(
            workspace=workspace,
            build_id=str(pointer.read(workspace)),
            is_new=False,
            row_counts=was["row_counts"],
            planted=tuple(Planted(**one) for one in was["planted"]),
            seconds=was["seconds"],
        )
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _clear(workspace: Workspace) -> None:
    """Take away an earlier demo; refuse to take away anything else."""
    root = workspace.root
    if not root.exists() or not any(root.iterdir()):
        return
    is_ours = workspace.settings_path.is_file() and settings.load(workspace.settings_path).is_demo
    is_unfinished = [path.name for path in root.iterdir()] == [FILES]
    if not is_ours and not is_unfinished:
        raise UsageProblem(
            "The demo is not made here: this folder holds something else.",
            where=str(root),
            rule="only an earlier demo is ever replaced",
            remedy="choose another place: roundelay demo --folder <folder>",
        )
    shutil.rmtree(root)


def _settle(workspace: Workspace, clean: SampleManifest) -> Settings:
    start.create(workspace.root, clean.school_name, clean.school_id, clean.time_zone, is_demo=True)
    return settings.load(workspace.settings_path)


def _let_in(workspace: Workspace, at: datetime) -> None:
    """One invented person for each role, without a password: the page shows a button for each."""
    rooms = sorted(snapshot.current(workspace).rooms)
    for name, shown, role in _PEOPLE:
        class_id = rooms[0] if role == "teacher" and rooms else None
        if role != "teacher" or class_id:
            person = _person(workspace, role, class_id)
            accounts.add(workspace, name, shown, role, class_id, None, at, person)


def _person(workspace: Workspace, role: str, class_id: str | None) -> str | None:
    """Who the invented person is in the people file: only those who look round need to be there."""
    if role == "support":
        return known_people.coach(workspace)
    return known_people.teacher_of(workspace, class_id) if class_id else None


def _row_counts(reports: Iterable[FileReport]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for one in reports:
        if one.accepted:
            counts[one.feed] = counts.get(one.feed, 0) + one.accepted
    return counts


def _planted(bad: FaultyFile, reports: Iterable[FileReport]) -> Planted:
    name = bad.path.name
    own = [one for one in reports if one.file_name == name or one.file_name.startswith(f"{name}/")]
    sheets = [str(one.correction_sheet) for one in own if one.correction_sheet]
    return Planted(
        file_name=name,
        what=bad.what,
        status=own[-1].status if own else "not read",
        set_aside=sum(one.quarantined for one in own),
        refused=sum(one.refused for one in own),
        correction_sheet=sheets[0] if sheets else None,
    )
