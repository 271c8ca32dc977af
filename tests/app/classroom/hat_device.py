"""A device in plain Python for tests of the server's side: it says only what it is told to say."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Any

from app.classroom.hat_exchange import exchange
from app.classroom.hat_store import HatStore
from app.classroom.hat_values import Message, News

DAY = "2026-05-15"
TEN = {f"pu-{number}": True for number in range(10)}
ALL = sorted(TEN)


@dataclass
class Classroom:
    """One class, its children, its store and a clock in seconds."""

    store: HatStore
    children: dict[str, bool]
    round_number: int = 4
    now: float = 0.0
    class_id: str = "room-3"
    random: Random = field(default_factory=lambda: Random(7))

    def send(self, message: Message) -> dict[str, Any]:
        return exchange(
            self.store,
            self.class_id,
            message,
            self.children,
            self.round_number,
            self.now,
            self.random,
        )


@dataclass
class Told:
    """A device that numbers what it tells."""

    room: Classroom
    device: str
    message: int = 0
    number: int = 0
    alone: bool = False
    untold: list[News] = field(default_factory=list)
    last: dict[str, Any] = field(default_factory=dict)
    sent: Message | None = None

    def tell(self, what: str, pupil_id: str = "", outcome: str = "answered", **more: Any) -> None:
        self.number += 1
        own = {
            "round": self.last.get("round", 0),
            "draw_id": f"{self.device}-{self.number}",
            "method": "cycle",
            "day": DAY,
            "sequence": self.number,
        }
        news = News(self.number, what, pupil_id=pupil_id, outcome=outcome, **{**own, **more})
        self.untold.append(news)

    def contact(self, *, wants: bool = True, begins: int = 0, day: str = DAY) -> dict[str, Any]:
        self.message += 1
        news = tuple(self.untold)
        self.sent = Message(self.device, self.message, day, news, wants, self.alone, begins)
        self.last = self.room.send(self.sent)
        self.alone = self.last["alone"]
        self.untold = [one for one in self.untold if one.number > self.last["heard"]]
        return self.last

    def again(self) -> dict[str, Any]:
        assert self.sent is not None
        return self.room.send(self.sent)

    def draw_all(self, *names: str) -> None:
        for name in names:
            self.tell("drawn", name)


def two_who_share(room: Classroom) -> tuple[Told, Told]:
    """Two devices in touch: `one` holds the second half of the names, `two` the first."""
    one, two = Told(room, "one"), Told(room, "two")
    one.contact()
    two.contact()
    one.contact()
    for name in ALL[:5]:
        one.tell("back", name)
    one.contact()
    two.contact()
    return one, two
