"""The page's own files: a fixed list, one version for all of them, nothing of any class."""

from __future__ import annotations

import hashlib
import json
from functools import lru_cache
from pathlib import Path

STATIC = Path(__file__).parent / "static"
_SHARED = Path(__file__).parents[1] / "static"
_FONTS = {
    "regular.woff2": _SHARED / "atkinson-hyperlegible-latin-400-normal.woff2",
    "bold.woff2": _SHARED / "atkinson-hyperlegible-latin-700-normal.woff2",
}
# Not among the files: they are made, or stand at an address of their own.
_APART = frozenset({"shell.html", "worker.js", "app.webmanifest"})
_KINDS = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".woff2": "font/woff2",
}


@lru_cache(maxsize=1)
def files() -> dict[str, tuple[bytes, str]]:
    """Every file by name, with its kind; read once, because a version belongs to all of them."""
    own = {path.name: path for path in STATIC.iterdir() if path.suffix in _KINDS}
    every = {**_FONTS, **{name: path for name, path in own.items() if name not in _APART}}
    return {name: (path.read_bytes(), _KINDS[path.suffix]) for name, path in sorted(every.items())}


@lru_cache(maxsize=1)
def version() -> str:
    """One word for what all files say together; it changes when any of them does."""
    digest = hashlib.sha256()
    shell = (STATIC / "shell.html").read_bytes()
    script = (STATIC / "worker.js").read_bytes()
    for name, content in (("shell", shell), ("worker", script), *_contents()):
        digest.update(f"{name}\n{len(content)}\n".encode())
        digest.update(content)
    return digest.hexdigest()[:16]


def _contents() -> list[tuple[str, bytes]]:
    return [(name, content) for name, (content, _) in files().items()]


@lru_cache(maxsize=1)
def shell() -> str:
    """The page without anything on it; its addresses are relative, so any mount will do."""
    return (STATIC / "shell.html").read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def worker() -> str:
    """The service worker of this version, which knows what to keep."""
    text = (STATIC / "worker.js").read_text(encoding="utf-8")
    names = json.dumps(list(files()))
    return text.replace("{{version}}", version()).replace("{{files}}", names)


@lru_cache(maxsize=1)
def manifest() -> str:
    """What a device needs to put the page beside its other apps."""
    return (STATIC / "app.webmanifest").read_text(encoding="utf-8")
