"""One exchange with a device: read the hat, take the message in, write it, answer."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random
from typing import Any

from app.classroom import hat_rules
from app.classroom.hat_answers import met
from app.classroom.hat_store import HatStore
from app.classroom.hat_values import Message


def exchange(
    store: HatStore,
    class_id: str,
    message: Message,
    waiting: Mapping[str, bool],
    round_number: int,
    now: float,
    random: Random,
) -> dict[str, Any]:
    """The answer to a message; what it changed is on the disk by then.

    `waiting` are the children who may be drawn, by the current build, with whether each still
    waits in the round `round_number` of the build; a class that has a hat goes on with its own.
    """
    with store.change(class_id) as place:
        before = place.read()
        hat = before or hat_rules.first_hat(round_number, waiting)
        heard = hat.devices[message.device].heard if message.device in hat.devices else 0
        after, told = met(hat, message, waiting.keys(), now, random)
        place.write(after, before)
        place.note(message.device, tuple(one for one in message.news if one.number > heard))
        place.tidy(message.day)
        number, clock = place.top(message.day)
    return {**told, "sequence": number, "clock": clock}


def end(store: HatStore, class_id: str, device: str) -> bool:
    """Give a device up for lost; whether the class knows such a device."""
    with store.change(class_id) as place:
        before = place.read()
        if before is None or device not in before.devices:
            return False
        place.write(hat_rules.ended(before, device), before)
    return True
