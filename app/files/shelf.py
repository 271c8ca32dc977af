"""What pages offer to take away: a file is made when it is asked for, under an address of its own.

An address is made of a secret of this process, so that nobody can guess one, and of what the file
is, so that the same page offers the same addresses. Whose it is stands beside it.
"""

from __future__ import annotations

import hmac
from collections import OrderedDict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from secrets import token_bytes
from threading import Lock
from urllib.parse import quote

_SECRET = token_bytes(32)
# A page offers some twenty files; this is as many as two hundred pages that somebody looks at.
_MOST = 4096


@dataclass(frozen=True)
class Offered:
    """A file that a page offers: its address, its name, whose page it is, and how it is made."""

    token: str
    name: str
    mime: str
    reader: str
    make: Callable[[], bytes]

    @property
    def address(self) -> str:
        """Where it is fetched, seen from the page that offers it."""
        return f"take/{self.token}/{quote(self.name)}"


def offered(reader: str, page: str, name: str, mime: str, make: Callable[[], bytes]) -> Offered:
    """A file of a page. `reader` is who may fetch it, `page` the build and address of the page."""
    said = "\0".join((reader, page, name)).encode()
    return Offered(hmac.digest(_SECRET, said, "sha256").hex(), name, mime, reader, make)


class Shelf:
    """The files that were offered last, by token; the oldest go first."""

    def __init__(self, most: int = _MOST) -> None:
        self._most = most
        self._files: OrderedDict[str, Offered] = OrderedDict()
        self._lock = Lock()

    def put(self, files: Iterable[Offered]) -> None:
        """Offer files, or keep them from growing old."""
        with self._lock:
            for one in files:
                self._files[one.token] = one
                self._files.move_to_end(one.token)
            while len(self._files) > self._most:
                self._files.popitem(last=False)

    def find(self, token: str, name: str) -> Offered | None:
        """The file under an address; None when it is not offered, or no longer."""
        with self._lock:
            found = self._files.get(token)
        return found if found is not None and found.name == name else None


SHELF = Shelf()
