"""The rules of the hat, as functions from one hat to the next. Nothing here knows a file or clock.

The invariant: a name is held by one device at most, and it leaves a device only by word of that
device (drawn, given back, left) or when a teacher ends the device. So two devices cannot draw one
child twice in a round, however long they are out of touch. What any other device says of that name
(an absence it heard of before, say) moves it nowhere.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from random import Random

from app.classroom.hat_values import LATELY_SECONDS, TURNS, Child, Device, Hat, Message, News


def first_hat(round_number: int, waiting: Mapping[str, bool]) -> Hat:
    """The hat of a class that has not used one: who still waits in the round that is running.

    When nobody waits, the next round begins.
    """
    if not any(waiting.values()):
        return Hat(round_number + 1, {key: Child(key) for key in waiting})
    children = {key: Child(key, had_turn=not waits) for key, waits in waiting.items()}
    return Hat(max(round_number, 1), children)


def with_members(hat: Hat, members: Collection[str]) -> Hat:
    """Newcomers join the running round, leavers leave it.

    While one device may begin the next round by itself, newcomers' names are kept for it.
    """
    stay = {key: one for key, one in hat.children.items() if key in members}
    new = {key: Child(key, holder=hat.lent_to) for key in members if key not in stay}
    return replace(hat, children={**stay, **new})


def with_device(hat: Hat, message: Message, now: float) -> Hat:
    """The hat with the device of a message in it; one that had left is back when it asks again."""
    known = hat.devices.get(message.device, Device(message.device))
    if message.message <= known.message:
        return _with_device(hat, known)
    state = "open" if known.state == "left" and message.wants else known.state
    wants = message.wants and state == "open"
    device = replace(known, message=message.message, wants=wants, seen_at=now, state=state)
    return _with_device(hat, device)


def with_news(hat: Hat, message: Message) -> Hat:
    """The hat after what a device tells; what was heard before changes nothing."""
    device = hat.devices[message.device]
    for one in message.news:
        if one.number == device.heard + 1:
            hat = _after(hat, device, one)
            device = replace(hat.devices[device.device], heard=one.number)
            hat = _with_device(hat, device)
    if hat.lent_to == device.device and not message.alone and message.message > hat.lent_at:
        hat = replace(hat, lent_to="", lent_at=0)
    return hat


def ended(hat: Hat, device: str) -> Hat:
    """A teacher gives a device up for lost: the names it has not drawn go back into the hat."""
    if device not in hat.devices:
        return hat
    gone = replace(hat.devices[device], state="ended", wants=False)
    return _with_device(_without_names(hat, device), gone)


def begun(hat: Hat, device: str, round_number: int, day: str) -> Hat:
    """The next round, if everyone who is there has had a turn; children who are away come first.

    Not while another device may begin it by itself, out of touch.
    """
    is_next = round_number == hat.round + 1 and hat.is_over(day)
    is_anybody_here = any(one.away_on != day for one in hat.children.values())
    if not is_next or not is_anybody_here or hat.lent_to not in ("", device):
        return hat
    return replace(hat, round=round_number, children=_afresh(hat, hat.lent_to))


def handed_out(hat: Hat, device: str, day: str, now: float, random: Random) -> Hat:
    """Names that lie in the hat, for a device that asks: all of them, or its part beside others.

    Nothing is handed out while another device may begin the next round by itself.
    """
    if hat.lent_to not in ("", device):
        return hat
    beside = len(at_work(hat, device, now))
    owed = [one for one in hat.children.values() if one.can_be_drawn(day)]
    lying = [one for one in owed if not one.holder]
    random.shuffle(lying)
    lying.sort(key=lambda one: not one.comes_first)
    part = -(-len(owed) // (beside + 1)) - sum(one.holder == device for one in owed)
    taken = lying[: max(part, 0)] if beside else lying
    return _with_children(hat, [replace(one, holder=device) for one in taken])


def lent(hat: Hat, device: str, now: float) -> Hat:
    """Let a device begin the next round by itself where it is the only one and holds every name.

    The names of absent children that lie in the hat are then put with it. This is taken back only
    by a later message in which the device says that it knows of it no longer (`with_news`).
    """
    if hat.lent_to or at_work(hat, device, now):
        return hat
    owed = [one for one in hat.children.values() if not one.had_turn]
    if any(one.holder not in ("", device) for one in owed):
        return hat
    mine = [replace(one, holder=device) for one in owed]
    number = hat.devices[device].message
    return replace(_with_children(hat, mine), lent_to=device, lent_at=number)


def at_work(hat: Hat, device: str, now: float) -> list[Device]:
    """The other devices of the class that were in touch lately and have not left."""
    return [
        one
        for one in hat.devices.values()
        if one.device != device and one.state == "open" and now - one.seen_at <= LATELY_SECONDS
    ]


def others_want(hat: Hat, device: str, day: str, now: float) -> bool:
    """Whether another device asks for names and has none, while the hat has none either."""
    if any(not one.holder and one.can_be_drawn(day) for one in hat.children.values()):
        return False
    return any(one.wants and not hat.held_by(one.device) for one in at_work(hat, device, now))


def _after(hat: Hat, device: Device, news: News) -> Hat:
    if news.what == "leaves":
        left = replace(device, state="left", wants=False)
        return _with_device(_without_names(hat, device.device), left)
    if news.what == "round":
        is_next = hat.lent_to == device.device and news.round == hat.round + 1
        children = _afresh(hat, device.device)
        return replace(hat, round=news.round, children=children) if is_next else hat
    child = hat.children.get(news.pupil_id)
    if child is None:
        return hat
    changed = _change(hat, device, child, news)
    return hat if changed is None else _with_children(hat, [changed])


def _change(hat: Hat, device: Device, child: Child, news: News) -> Child | None:
    """What a piece of news makes of its child; None when it changes nothing."""
    is_now, is_mine = news.round == hat.round, child.holder == device.device
    if news.what == "drawn" and news.method == "cycle" and is_now and not child.had_turn:
        return _drawn(child, news, is_mine=is_mine)
    if news.what == "undone" and news.method == "cycle":
        return _undone(hat, device, child, news)
    if news.what == "back" and is_now and is_mine:
        return replace(child, holder="")
    if news.what == "here":
        return replace(child, away_on="")
    return None


def _drawn(child: Child, news: News, *, is_mine: bool) -> Child:
    """The child after its name came up; *away* counts from the device that holds the name.

    Another device says so of what it heard before, at the end of a round: the child may have come
    since, and its name be out. That word keeps a second row from being written, and no more.
    """
    if news.outcome in TURNS:
        return replace(child, had_turn=True, holder="", away_on="", comes_first=False)
    if news.outcome != "absent":
        return child
    if not is_mine:
        return replace(child, is_marked=True)
    holder = child.holder if news.stays else ""
    return replace(child, away_on=news.day, comes_first=True, holder=holder, is_marked=True)


def _undone(hat: Hat, device: Device, child: Child, news: News) -> Child | None:
    """The name is with the device that takes its draw back; in a later round it comes first."""
    if news.round != hat.round:
        return None if child.had_turn else replace(child, comes_first=True)
    has_turn_elsewhere = child.had_turn and news.outcome not in TURNS
    if has_turn_elsewhere or child.holder not in ("", device.device):
        return None
    holder = device.device if device.state == "open" else ""
    return replace(
        child,
        had_turn=False,
        away_on="",
        holder=holder,
        comes_first=news.first,
        is_marked=False,
    )


def _afresh(hat: Hat, holder: str) -> dict[str, Child]:
    return {
        key: replace(
            one,
            holder=holder,
            had_turn=False,
            comes_first=one.comes_first and not one.had_turn,
            is_marked=False,
        )
        for key, one in hat.children.items()
    }


def _without_names(hat: Hat, device: str) -> Hat:
    freed = [replace(one, holder="") for one in hat.held_by(device)]
    hat = _with_children(hat, freed)
    return replace(hat, lent_to="", lent_at=0) if hat.lent_to == device else hat


def _with_children(hat: Hat, changed: Sequence[Child]) -> Hat:
    return replace(hat, children={**hat.children, **{one.pupil_id: one for one in changed}})


def _with_device(hat: Hat, device: Device) -> Hat:
    return replace(hat, devices={**hat.devices, device.device: device})
