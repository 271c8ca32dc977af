"""A school's day of records, one file each: loaded as the command does it, beside file by file.

The ways take turns in copies of one invented school; a ratio is the median of those of the turns.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from ingest.load import load_files
from ingest.sample import FULL, SampleManifest, generate
from ingest.settings import Settings
from ingest.workspace import Workspace
from tests.bench import record_files
from tests.bench.figure import Figure, Options, Run, measure, median

_MOST_RATIO = 0.2


def run(folder: Path, options: Options) -> list[Figure]:
    """Seconds and processor time of a day's records in the whole invented school."""
    with tempfile.TemporaryDirectory(dir=folder, prefix="records-") as place:
        made = generate(Path(place) / "files", size=FULL)
        return compare(Path(place), made, options)


def compare(place: Path, made: SampleManifest, options: Options) -> list[Figure]:
    """The two ways in turns, in copies of a school that is loaded in `place` first."""
    school = Workspace(place / "school")
    school.make_folders()
    settings = Settings(school_id="quillbrook", school_name="Quillbrook Primary (invented)")
    load_files(made.files, school, settings, made.received_at)
    day = made.as_of_on.isoformat()
    record_files.write(school.inbox, school.landing, day, options.records)
    turns = []
    for turn in range(options.repeats):
        turns.append((_one(school, "together", day), _one(school, "alone", day)))
        for way, one in zip(("together", "alone"), turns[-1], strict=True):
            print(f"  turn {turn + 1}: {way} {one.seconds:.1f} s, cpu {one.cpu_seconds:.1f} s, "
                  f"{one.told}", file=sys.stderr, flush=True)  # fmt: skip
    return _figures(turns, options.records)


def _one(school: Workspace, how: str, day: str) -> Run:
    place = Path(tempfile.mkdtemp(dir=school.root.parent, prefix=f"{how}-"))
    try:
        copy = shutil.copytree(school.root, place / "school")
        return measure("tests.bench.way_records", [copy, how, day])
    finally:
        shutil.rmtree(place, ignore_errors=True)


def _figures(turns: list[tuple[Run, Run]], records: int) -> list[Figure]:
    for together, alone in turns:
        same = [(one.told["accepted"], one.told["left"]) for one in (together, alone)]
        if same[0] != same[1] or together.told["files"] != records or same[0][1]:
            raise RuntimeError(f"the ways disagree: {together.told} and {alone.told}")
    ratio = median([one.seconds / other.seconds for one, other in turns])
    cpu_ratio = median([one.cpu_seconds / other.cpu_seconds for one, other in turns])
    what, beside = f"{records:,} records of a day, a file each", "each file by itself"
    return [
        Figure(
            f"{what}: loaded and taken from the inbox", median([one.seconds for one, _ in turns]),
            "s", beside, ratio, "", None,
        ),
        Figure(
            f"{what}: processor time of the same", median([one.cpu_seconds for one, _ in turns]),
            "s", beside, cpu_ratio, f"<= {_MOST_RATIO:g} x", cpu_ratio <= _MOST_RATIO,
        ),
        Figure(
            f"{what}: processor time of a file by itself",
            1000 * median([other.cpu_seconds for _, other in turns]) / records, "ms", "", None,
            "", None,
        ),
    ]  # fmt: skip
