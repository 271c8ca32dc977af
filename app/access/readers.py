"""The four kinds of reader, and whose pages a session shows."""

from __future__ import annotations

from dataclasses import dataclass

from app.access.problems import Refused

SHELVES_OF_ROLE = {
    "principal": ("school",),
    "support": ("school", "support"),
    "steward": ("school", "steward"),
    "teacher": ("school", "room"),
}


@dataclass(frozen=True)
class Reader:
    """A role and, for a teacher, the one class she teaches."""

    role: str
    class_id: str | None = None

    @property
    def key(self) -> str:
        """The reader as the setting spells it: `principal`, `teacher:room-03`."""
        return self.role if self.class_id is None else f"{self.role}:{self.class_id}"

    @property
    def shelves(self) -> tuple[str, ...]:
        """The parts of a snapshot that this reader may read."""
        return SHELVES_OF_ROLE[self.role]


def parse_reader(text: str) -> Reader | None:
    """The reader that a setting names, None for anything else (junk names nobody)."""
    role, colon, class_id = text.strip().partition(":")
    if role == "teacher":
        return Reader(role, class_id) if class_id else None
    return Reader(role) if role in SHELVES_OF_ROLE and not colon else None


def reader_for(setting: str, *, is_demo: bool, chosen: str | None = None) -> Reader:
    """Whose pages to show: the setting decides; a choice on the page counts in a demo only.

    `Refused` when the setting names nobody. In a demo, nobody means the principal.
    """
    if is_demo and chosen and (reader := parse_reader(chosen)):
        return reader
    reader = parse_reader(setting)
    if reader is None and is_demo and not setting:
        return Reader("principal")
    if reader is None:
        raise Refused(
            "The dashboard was not told who is reading. Start it again and say who: "
            "roundelay open --as principal"
        )
    return reader
