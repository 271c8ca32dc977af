"""The one door of this process, made of what the environment says; none without a sign-in."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from app import access, door


def rules() -> door.Rules:
    """How people sign in; plain defaults where nothing was set about it."""
    text = access.sign_in_setting()
    return door.read(text) if text else door.Rules(listens_on=access.address_setting())


def own_door() -> door.Door | None:
    """The door, the same for the server and for every run of a page; None without a sign-in."""
    text, workspace = access.sign_in_setting(), access.workspace_setting()
    if not text or workspace is None:
        return None
    if access.believes_headers():
        raise RuntimeError("With a sign-in the dashboard is started by: roundelay open")
    return _door(text, workspace)


@lru_cache(maxsize=1)
def _door(text: str, workspace: Path) -> door.Door:
    return door.open_door(workspace, door.read(text), lambda: access.now().timestamp())
