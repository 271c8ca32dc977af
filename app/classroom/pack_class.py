"""What the pack says about one class: its card, its children, what is likely to be taught."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from app.queries import room

if TYPE_CHECKING:
    from app.access import Scope


def class_part(scope: Scope) -> dict[str, Any]:
    """The class of a teacher's scope; children without a given name are called by a number."""
    card = room.card(scope)
    first = card.iloc[0] if len(card) else None
    title = str(first["title"]) if first is not None else str(scope.reader.class_id)
    size = int(first["pupil_count"]) if first is not None else 0
    return {
        "class": {"class_id": scope.reader.class_id, "title": title, "size": size},
        "pupils": pupils(scope),
    }


def pupils(scope: Scope) -> list[dict[str, str]]:
    """The children who may be drawn, by name; two of one name get the initial of the other."""
    rows = room.turns(scope)
    rows = rows[rows["is_eligible"]]
    given = [_text(one) for one in rows["given_name"]]
    named = [
        (str(pupil_id), name, _text(initial))
        for pupil_id, name, initial in zip(
            rows["pupil_id"], given, rows["family_initial"], strict=True
        )
    ]
    found = [
        {"pupil_id": pupil_id, "name": _name(number, name, initial, given)}
        for number, (pupil_id, name, initial) in enumerate(sorted(named), start=1)
    ]
    return sorted(found, key=lambda one: (one["name"].casefold(), one["pupil_id"]))


def _name(number: int, given: str, initial: str, every: list[str]) -> str:
    if not given:
        return f"Child {number}"
    return f"{given} {initial}." if every.count(given) > 1 and initial else given


def _text(value: object) -> str:
    return value if isinstance(value, str) else ""
