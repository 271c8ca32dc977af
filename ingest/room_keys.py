"""File names for rooms: safe on every system, different for different classes, and readable back.

A class key may hold any characters. Lower-case letters, digits and `-` stay; every other byte of
its UTF-8 form becomes `_` and two hexadecimal digits (capitals too, because some file systems do
not tell them apart). A digest of the whole key ends the name, so that a long key may be cut.
"""

import hashlib
import re

_PLAIN = frozenset(b"abcdefghijklmnopqrstuvwxyz0123456789-")
_LONGEST = 80
_NAME = re.compile(r"room-(?P<text>[a-z0-9_-]*)-(?P<digest>[0-9a-f]{16})")


def to_file_stem(class_id: str) -> str:
    """The file name, without its ending, of the room of a class."""
    raw = class_id.encode("utf-8")
    text = "".join(chr(byte) if byte in _PLAIN else f"_{byte:02x}" for byte in raw)
    return f"room-{text[:_LONGEST]}-{hashlib.sha256(raw).hexdigest()[:16]}"


def from_file_stem(stem: str) -> str | None:
    """The class key of a file name; none for a name that was cut or is not one of ours."""
    match = _NAME.fullmatch(stem)
    if match is None:
        return None
    try:
        raw = re.sub(rb"_([0-9a-f]{2})", _byte, match["text"].encode("ascii"))
        class_id = raw.decode("utf-8")
    except UnicodeDecodeError:
        return None
    return class_id if to_file_stem(class_id) == stem else None


def _byte(match: re.Match[bytes]) -> bytes:
    return bytes.fromhex(match[1].decode("ascii"))
