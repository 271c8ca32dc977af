"""One message of a device: what it does to the hat, and what the device is answered."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from random import Random
from typing import Any

from app.classroom import hat_rules as rules
from app.classroom.hat_values import Child, Hat, Message


def met(
    hat: Hat, message: Message, members: Collection[str], now: float, random: Random
) -> tuple[Hat, dict[str, Any]]:
    """The hat after a message, and the answer to it.

    A message that came before, or an older one that was late, is answered and changes nothing:
    its news is known, and names are handed out for a new message only.
    """
    known = hat.devices.get(message.device)
    is_new = known is None or message.message > known.message
    hat = rules.with_members(hat, members)
    hat = rules.with_device(hat, message, now)
    hat = rules.with_news(hat, message)
    if is_new and hat.devices[message.device].wants:
        if message.begins:
            hat = rules.begun(hat, message.device, message.begins, message.day)
        hat = rules.handed_out(hat, message.device, message.day, now, random)
        hat = rules.lent(hat, message.device, now)
    return hat, answer(hat, message, now)


def answer(hat: Hat, message: Message, now: float) -> dict[str, Any]:
    """What a device needs to draw until it is in touch again.

    `share` are the names it holds, `first` those among all names that come before the others,
    `alone` whether it may begin the next round by itself, `wanted` whether another device asks
    for a part of what it holds.
    """
    device = hat.devices[message.device]
    mine = hat.held_by(device.device)
    owed = [one for one in hat.children.values() if one.can_be_drawn(message.day)]
    is_wanted = rules.others_want(hat, device.device, message.day, now)
    return {
        "message": message.message,
        "heard": device.heard,
        "state": device.state,
        "round": hat.round,
        "share": _keys(mine),
        "first": _keys(one for one in mine if one.comes_first),
        "away": {one.pupil_id: one.away_on for one in hat.children.values() if _is_away(one)},
        "marked": _keys(one for one in hat.children.values() if one.is_marked),
        "eligible": sorted(hat.children),
        "had": sum(one.had_turn for one in hat.children.values()),
        "alone": hat.lent_to == device.device and not is_wanted,
        "wanted": is_wanted,
        "over": hat.is_over(message.day) and hat.lent_to in ("", device.device),
        "others": len(rules.at_work(hat, device.device, now)),
        "elsewhere": sum(one.holder not in ("", device.device) for one in owed),
        "lying": sum(not one.holder for one in owed),
        "holders": [
            {
                "device": one.device,
                "names": len(hat.held_by(one.device)),
                "begins": hat.lent_to == one.device,
                "quiet_minutes": int(max(now - one.seen_at, 0) // 60),
            }
            for one in hat.devices.values()
            if one.device != device.device
            and (hat.held_by(one.device) or hat.lent_to == one.device)
        ],
    }


def _is_away(child: Child) -> bool:
    return bool(child.away_on) and not child.had_turn


def _keys(children: Iterable[Child]) -> list[str]:
    return sorted(one.pupil_id for one in children)
