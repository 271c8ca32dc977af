"""The few addresses that answer without a visit. Everything that is not named here is closed."""

from __future__ import annotations

from pathlib import Path

from app.door.rules import Rules

HEALTH = "/up"
SIGN_IN = "/signin"
SIGN_OUT = "/signout"
DEMO = "/signin/demo"
PROVIDER = "/signin/provider"
BACK = "/signin/back"

_HERE = Path(__file__).parent
_STATIC = _HERE.parent / "static"
ASSETS = {
    "/door/door.css": _HERE / "door.css",
    "/door/regular.woff2": _STATIC / "atkinson-hyperlegible-latin-400-normal.woff2",
    "/door/bold.woff2": _STATIC / "atkinson-hyperlegible-latin-700-normal.woff2",
    "/door/mark.png": _STATIC / "mark.png",
}


def open_ways(rules: Rules) -> frozenset[str]:
    """What is open under these rules: only addresses that are answered by the door itself."""
    demo = (DEMO,) if rules.is_demo else ()
    provider = (PROVIDER, BACK) if rules.mode == "oidc" else ()
    return frozenset((HEALTH, SIGN_IN, *demo, *provider, *ASSETS))
