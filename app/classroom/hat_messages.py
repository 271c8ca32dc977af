"""Reads what a device sends. Whatever is not exactly a message is no message."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from app.classroom.hat_values import Message, News

_KEY = re.compile(r"[0-9A-Za-z._:-]{1,64}")
_METHODS = frozenset(
    {"cycle", "with_replacement", "queue", "volunteer", "teacher_choice", "choral", "partner"}
)
_OUTCOMES = frozenset(
    {"answered", "helped", "passed", "other_way", "absent", "unavailable", "redraw", "skipped"}
)
_WHAT = frozenset({"drawn", "undone", "back", "here", "round", "leaves"})
_MOST_NEWS = 2000
_LARGEST = 2**53


class NoMessage(ValueError):  # noqa: N818 - an answer to the device
    """What was sent is no message; the words say where."""


def message_of(sent: object) -> Message:
    """A message as sent in JSON; `NoMessage` says what is wrong with it."""
    if not isinstance(sent, dict):
        raise NoMessage("a message is an object")
    news = sent.get("news", [])
    if not isinstance(news, list) or len(news) > _MOST_NEWS:
        raise NoMessage("news is a list")
    return Message(
        device=_key(sent, "device"),
        message=_number(sent, "message", 1),
        day=_day(sent, "day"),
        news=tuple(_news(one) for one in news),
        wants=_truth(sent, "wants"),
        alone=_truth(sent, "alone"),
        begins=_number(sent, "begins", 0),
    )


def _news(sent: object) -> News:
    if not isinstance(sent, dict):
        raise NoMessage("a piece of news is an object")
    what = _one_of(sent, "what", _WHAT)
    number = _number(sent, "number", 1)
    if what == "leaves":
        return News(number, what)
    round_number = _number(sent, "round", 0)
    if what == "round":
        return News(number, what, round_number)
    if what in ("back", "here"):
        return News(number, what, round_number, _text(sent, "pupil_id"))
    return News(
        number,
        what,
        round_number,
        _text(sent, "pupil_id"),
        _key(sent, "draw_id"),
        _one_of(sent, "method", _METHODS),
        _one_of(sent, "outcome", _OUTCOMES),
        _day(sent, "day"),
        _number(sent, "sequence", 0),
        _number(sent, "clock", 0),
        _truth(sent, "first"),
        _truth(sent, "stays"),
    )


def _text(sent: dict[str, Any], name: str) -> str:
    value = sent.get(name, "")
    if not isinstance(value, str) or len(value) > 255:
        raise NoMessage(f"{name} is a text")
    return value


def _key(sent: dict[str, Any], name: str) -> str:
    value = _text(sent, name)
    if not _KEY.fullmatch(value):
        raise NoMessage(f"{name} is a key")
    return value


def _one_of(sent: dict[str, Any], name: str, known: frozenset[str]) -> str:
    value = _text(sent, name)
    if value not in known:
        raise NoMessage(f"{name} is none of its words")
    return value


def _number(sent: dict[str, Any], name: str, least: int) -> int:
    value: object = sent.get(name, 0)
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= _LARGEST:
        raise NoMessage(f"{name} is a whole number from {least}")
    return value


def _truth(sent: dict[str, Any], name: str) -> bool:
    value = sent.get(name, False)
    if not isinstance(value, bool):
        raise NoMessage(f"{name} is true or false")
    return value


def _day(sent: dict[str, Any], name: str) -> str:
    value = _text(sent, name)
    try:
        return date.fromisoformat(value).isoformat()
    except ValueError:
        raise NoMessage(f"{name} is a day") from None
