"""The pages of `docs/measures/`: one for each measure and an index, made from the models.

The frame is made from the YAML beside the model; what a measure tells in plain words is written by
hand in that YAML too (`meta.measure.sense`), so that page and dashboard say the same.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from ingest.build import PROJECT
from ingest.measure_words import (
    COUNTS,
    HEADING,
    INTRODUCTION,
    KINDS,
    NEVER_SHOWN,
    RANGES,
    RESTS_ON,
    ROLLED_UP,
    SHOWN,
    STATUS,
    THEMES,
    UNITS,
    WINDOWS,
)
from ingest.thresholds import THRESHOLDS

FOLDER = "docs/measures"
INDEX = "README.md"
_MODELS = "models/intermediate/measures"
_LEVELS = ("class", "grade", "school", "tier")
_REF = re.compile(r"ref\('([a-z0-9_]+)'\)")
_THRESHOLD = re.compile(r"threshold\('([a-z0-9_]+)'\)")


@dataclass(frozen=True)
class Measure:
    """One measure as its model describes it."""

    name: str
    model: str
    meta: Mapping[str, Any]
    rests_on: str
    named_thresholds: tuple[str, ...]

    @property
    def title(self) -> str:
        """Its name for readers."""
        return str(self.meta["title"])

    @property
    def sense(self) -> str:
        """What it tells, written by hand; empty when nobody has."""
        return str(self.meta.get("sense", "")).strip()

    @property
    def levels(self) -> tuple[str, ...]:
        """The levels it exists for."""
        return tuple(self.meta.get("levels", _LEVELS))

    @property
    def thresholds(self) -> tuple[str, ...]:
        """Every number a school may set that shapes it, in the order of the settings."""
        named = {*self.named_thresholds, *RANGES[self.meta["interval_kind"]].thresholds}
        named |= {value for value in self.meta.values() if isinstance(value, str)}
        named |= {"min_days"} if self.meta.get("has_days") else set()
        named |= {"upper_level"} if self.meta.get("criterion") else set()
        return tuple(name for name in THRESHOLDS if name in named)


def measures(project: Path = PROJECT) -> list[Measure]:
    """Every measure of the project in order of its name."""
    found = []
    for path in sorted((project / _MODELS).rglob("*.yml")):
        for model in yaml.safe_load(path.read_text(encoding="utf-8"))["models"]:
            meta = model.get("config", {}).get("meta", {}).get("measure")
            if meta:
                sql = path.with_suffix(".sql").read_text(encoding="utf-8")
                name = model["name"].split("_", 2)[2]
                used = tuple(_THRESHOLD.findall(sql))
                found.append(Measure(name, model["name"], meta, _rests_on(sql, project), used))
    return sorted(found, key=lambda measure: measure.name)


def _rests_on(sql: str, project: Path) -> str:
    """What a model is made of, by the folders of the models it reads (as the catalogue says it)."""
    folders = {_folders(project).get(name) for name in _REF.findall(sql)}
    return next((kind for folder, kind in RESTS_ON.items() if folder in folders), "visits")


@cache
def _folders(project: Path) -> Mapping[str, str]:
    return {path.stem: path.parent.name for path in (project / "models").rglob("*.sql")}


def pages(project: Path = PROJECT) -> dict[str, str]:
    """File name to text of every page of the folder."""
    listed = measures(project)
    texts = {f"{one.name}.md": "\n".join([*_page(one), ""]) for one in listed}
    return {INDEX: "\n".join([*_index(listed), ""]), **texts}


def _index(listed: Sequence[Measure]) -> Iterator[str]:
    yield INTRODUCTION
    for kind, theme in THEMES.items():
        own = [one for one in listed if one.rests_on == kind]
        if own:
            yield from (f"## {theme}", "", "| measure | what it asks |", "|---|---|")
            yield from (f"| [{one.title}]({one.name}.md) | {one.meta['question']} |" for one in own)
            yield ""
    yield from ("## Numbers a school may set", "")
    yield "In `roundelay.toml` under `[thresholds]`. A default without a source is a convention."
    yield ""
    yield from _settings(THRESHOLDS)


def _page(one: Measure) -> Iterator[str]:
    yield f"# {one.title}"
    yield ""
    yield HEADING
    yield ""
    yield f"**{one.meta['question']}**"
    yield from ("", "## What it tells", "", one.sense, "", "## How it is counted", "")
    yield from (f"- **{name}**: {text}" for name, text in _facts(one) if text)
    yield from ("", "## What it cannot say", "", str(one.meta["cannot_say"]), "")
    if one.thresholds:
        yield from ("## Numbers a school may set that shape it", "", *_settings(one.thresholds), "")
    yield from ("## Source", "", str(one.meta["source"]))


def _facts(one: Measure) -> Iterator[tuple[str, str]]:
    meta = one.meta
    kind = RANGES[meta["interval_kind"]]
    yield "Numerator", meta["numerator"]
    yield "Denominator", meta["denominator"]
    yield "Unit", UNITS[meta["unit"]]
    yield "Made of", KINDS[one.rests_on]
    yield "Levels", f"{', '.join(one.levels)}. {ROLLED_UP[meta['shape']]}"
    yield "By routine", "yes, and all routines together" if meta.get("is_by_routine", True) else ""
    yield "Windows", WINDOWS
    yield "Range", str(meta.get("range_note") or kind.words)
    yield "Needs", f"{meta['minimum_data']} {_needs(meta)}"
    yield "Words of standing", _standing(meta)
    kept = NEVER_SHOWN.get(one.rests_on, ())
    yield "Shown to", "; ".join(SHOWN[level] for level in one.levels if level not in kept)
    yield "Model", f"[{one.model}](../../dbt_project/{_MODELS}/{one.model}.sql)"


def _needs(meta: Mapping[str, Any]) -> str:
    """What makes a figure usable and solid, in the terms of the row."""
    said = []
    for word in ("usable", "solid"):
        parts = [
            f"{_value(meta[f'{word}_{key}'])} {label}"
            for key, label in COUNTS.items()
            if f"{word}_{key}" in meta
        ]
        if parts:
            said.append(f"{word}: {' and '.join(parts)}")
    days = f"; on {_value('min_days')} days" if meta.get("has_days") else ""
    return f"In the terms of the row, {'; '.join(said)}{days}." if said else ""


def _value(count: int | str) -> str:
    return f"{THRESHOLDS[count].default:g}" if isinstance(count, str) else str(count)


def _standing(meta: Mapping[str, Any]) -> str:
    line = meta.get("criterion")
    if not line:
        return "none: there is no line to stand against."
    return STATUS.format(line=f"{THRESHOLDS[line].default:g}")


def _settings(names: Iterable[str]) -> Iterator[str]:
    yield "| name | default | what it is | where the default comes from |"
    yield "|---|---|---|---|"
    for one in (THRESHOLDS[name] for name in names):
        yield f"| `{one.name}` | {one.default:g} | {one.description} | {one.source_note} |"


def write(root: Path, project: Path = PROJECT) -> None:
    """Write every page below a checkout and take away pages of measures that are no more."""
    folder = root / FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    texts = pages(project)
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8", newline="\n")
    for stale in {path.name for path in folder.glob("*.md")} - set(texts):
        (folder / stale).unlink()
