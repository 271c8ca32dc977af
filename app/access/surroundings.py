"""The clock and the environment: the thin edge that the rest of the dashboard is spared."""

import os
from datetime import UTC, datetime
from pathlib import Path


def workspace_setting() -> Path | None:
    """The folder of the school, as `roundelay open` named it; None when it named none."""
    text = os.environ.get("ROUNDELAY_WORKSPACE", "").strip()
    return Path(text) if text else None


def reader_setting() -> str:
    """Whose pages the person who started the process asked for; empty when not said."""
    return os.environ.get("ROUNDELAY_READER", "").strip()


def sign_in_setting() -> str:
    """How people sign in, as `roundelay open` says it (JSON); empty without a sign-in."""
    return os.environ.get("ROUNDELAY_SIGN_IN", "").strip()


def address_setting() -> str:
    """The address that the server listens on; empty when it was not said."""
    return os.environ.get("STREAMLIT_SERVER_ADDRESS", "").strip()


def believes_headers() -> bool:
    """Whether the web server itself takes a caller's address from what a header says."""
    return os.environ.get("FORWARDED_ALLOW_IPS", "127.0.0.1") != ""


def now() -> datetime:
    """This moment, in UTC: only for saying how old a build is."""
    return datetime.now(UTC)
