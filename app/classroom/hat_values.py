"""What the hat is made of: children, devices, what a device tells and what it is answered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

TURNS = frozenset({"answered", "helped", "passed", "other_way"})
# A device that was in touch within so many seconds counts as one that is drawing now.
LATELY_SECONDS = 20 * 60.0


@dataclass(frozen=True)
class Child:
    """A child of the running round. `holder` is empty while the name lies in the hat.

    `is_marked`: the name came up in this round while the child was away.
    """

    pupil_id: str
    holder: str = ""
    had_turn: bool = False
    away_on: str = ""
    comes_first: bool = False
    is_marked: bool = False

    def can_be_drawn(self, day: str) -> bool:
        """Whether a turn is still owed and the child is not away on this day."""
        return not self.had_turn and self.away_on != day


@dataclass(frozen=True)
class Device:
    """A tablet or phone that draws in a class: how far it was heard and what it wants."""

    device: str
    message: int = 0
    heard: int = 0
    wants: bool = False
    seen_at: float = 0.0
    state: str = "open"


@dataclass(frozen=True)
class News:
    """One thing that happened on a device, numbered by it from 1.

    `what` is drawn, undone, back (a name given back), here (an absent child has come), round (the
    device, being the only one, began round `round`), or leaves. `first`: the name came before the
    others; `stays`: the name of an absent child stays with the device.
    """

    number: int
    what: str
    round: int = 0
    pupil_id: str = ""
    draw_id: str = ""
    method: str = ""
    outcome: str = ""
    day: str = ""
    sequence: int = 0
    clock: int = 0
    first: bool = False
    stays: bool = False


@dataclass(frozen=True)
class Message:
    """What a device sends: all its news that it does not know to be heard.

    `alone` is what it believes: that it may begin the next round by itself. `begins` is the round
    it asks the server to begin, 0 for none.
    """

    device: str
    message: int
    day: str
    news: tuple[News, ...] = ()
    wants: bool = False
    alone: bool = False
    begins: int = 0


@dataclass(frozen=True)
class Hat:
    """The running round of one class."""

    round: int
    children: Mapping[str, Child] = field(default_factory=dict)
    devices: Mapping[str, Device] = field(default_factory=dict)
    lent_to: str = ""
    lent_at: int = 0

    def held_by(self, device: str) -> list[Child]:
        """The children whose turn is still to come and whose name this device holds."""
        return [one for one in self.children.values() if one.holder == device and not one.had_turn]

    def is_over(self, day: str) -> bool:
        """Whether everybody who is there has had a turn."""
        return not any(one.can_be_drawn(day) for one in self.children.values())
