"""The section of the settings about watching the inbox."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import time
from pathlib import Path
from typing import Any

from ingest.errors import WorkspaceProblem

_NUMBERS = {"settle_seconds": (10, 1, 3600), "build_every_minutes": (60, 0, 1440)}
LINES = [
    ("settle_seconds", "10", "a file is taken up once it has not changed for so long"),
    ("build_every_minutes", "60", "after something new, at most so often; 0: only at build_at"),
    ("build_at", "[]", 'and every day at these times of the school, as ["18:30"]'),
]


@dataclass(frozen=True)
class Watch:
    """When `roundelay watch` takes files up and when it builds."""

    settle_seconds: int = 10
    build_every_minutes: int = 60
    build_at: tuple[time, ...] = ()


def read(
    table: Mapping[str, Any],
    path: Path,
    closed: Callable[[Mapping[str, Any], tuple[str, ...], str], None],
) -> Watch:
    """The section as read; `WorkspaceProblem` names the setting that is not right."""
    closed(table, (*_NUMBERS, "build_at"), "watch.")
    numbers = {name: _number(table, name, path) for name in _NUMBERS}
    return Watch(build_at=_times(table.get("build_at", []), path), **numbers)


def _number(table: Mapping[str, Any], name: str, path: Path) -> int:
    usual, least, most = _NUMBERS[name]
    value = table.get(name, usual)
    if type(value) is not int or not least <= value <= most:
        raise WorkspaceProblem(
            f"{value!r} cannot be used.",
            where=f"{path}: watch.{name}",
            rule=f"a whole number from {least} to {most}",
            remedy=f"the default is {usual}",
        )
    return value


def _times(value: object, path: Path) -> tuple[time, ...]:
    parts = value if isinstance(value, list) else [None]
    try:
        return tuple(sorted({time.fromisoformat(_five(part)) for part in parts}))
    except ValueError:
        raise WorkspaceProblem(
            f"{value!r} cannot be used.",
            where=f"{path}: watch.build_at",
            rule="a list of times of the school's clock, each as hours and minutes",
            remedy='for example build_at = ["12:30", "18:30"]',
        ) from None


def _five(part: object) -> str:
    """`18:30` and nothing shorter or longer."""
    if not isinstance(part, str) or len(part) != len("18:30"):
        raise ValueError(part)
    return part
