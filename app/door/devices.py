"""Class tablets: a teacher makes a code, a tablet types it, and until the evening it may be used.

A tablet stands on its teacher's word: when she may no longer come in, neither may it.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from app.door import tokens
from app.door.accounts import Accounts
from app.door.sessions import Guest
from app.door.store import Store

SOURCE = "device"
CODE_SECONDS = 600.0
CODE_LETTERS = 8
# No letter that is taken for another or for a digit, and no vowel, so that no word comes about.
ALPHABET = "CDFGHJKMNPQRTVWXY34679"
_PREFIX = "device:"
_MOST_CODES = 3
_CODE = "maker, maker_version, maker_name, reader, person_id, is_good_until, ends_at"
_DEVICE = "device_id, maker, maker_version, maker_name, reader, person_id, begun_at, ends_at"


@dataclass(frozen=True)
class Maker:
    """The teacher who lends a tablet her class: who she is and until when."""

    subject: str
    shown_name: str
    reader: str
    person_id: str


@dataclass(frozen=True)
class Device:
    """A tablet that is paired."""

    device_id: str
    maker: str
    maker_version: int
    maker_name: str
    reader: str
    person_id: str
    begun_at: float
    ends_at: float


@dataclass(frozen=True)
class Devices:
    """Makes and takes codes, lists and ends class tablets. Times are seconds since 1970."""

    store: Store
    accounts: Accounts

    def new_code(self, maker: Maker, now: float, ends_at: float) -> str:
        """A code for one tablet, good once and for ten minutes; her oldest ones give way."""
        code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LETTERS))
        row = (maker.subject, self._version(maker.subject), maker.shown_name, maker.reader)
        with self.store.together() as connection:
            connection.execute("delete from pairing_code where is_good_until <= ?", [now])
            connection.execute(
                "delete from pairing_code where code_sha256 in (select code_sha256 from "
                "pairing_code where maker = ? order by is_good_until desc limit -1 offset ?)",
                [maker.subject, _MOST_CODES - 1],
            )
            connection.execute(
                f"insert into pairing_code (code_sha256, {_CODE}) values (?, ?, ?, ?, ?, ?, ?, ?)",
                [tokens.digest(code), *row, maker.person_id, now + CODE_SECONDS, ends_at],
            )
        return code

    def take(self, typed: str, now: float) -> tuple[Guest, float] | None:
        """The guest that a code lets in, and until when; None for a code that is not good."""
        with self.store.together() as connection:
            found = connection.execute(
                f"delete from pairing_code where code_sha256 = ? returning {_CODE}",
                [tokens.digest(plain_code(typed))],
            ).fetchone()
            if found is None or found[5] <= now or found[6] <= now:
                return None
            if found[5] - CODE_SECONDS < self.accounts.ended_before(found[0]):
                return None
            connection.execute("delete from device where ends_at <= ?", [now])
            row = (secrets.token_hex(16), *found[:5], now, found[6])
            connection.execute(
                f"insert into device ({_DEVICE}) values (?, ?, ?, ?, ?, ?, ?, ?)", row
            )
        device = Device(*row)
        if not self.is_paired(_PREFIX + device.device_id):
            return None
        name = f"Class tablet of {device.maker_name}"
        subject = _PREFIX + device.device_id
        return Guest(subject, 0, name, device.reader, SOURCE, device.person_id), device.ends_at

    def is_paired(self, subject: str) -> bool:
        """Whether a tablet is still lent, and whoever lends it may still come in."""
        found = self.store.rows(
            f"select {_DEVICE} from device where device_id = ?", [subject.removeprefix(_PREFIX)]
        )
        if not found:
            return False
        device = Device(*found[0])
        if device.begun_at < self.accounts.ended_before(device.maker):
            return False
        return not device.maker_version or self._version(device.maker) == device.maker_version

    def of_class(self, reader: str, now: float) -> tuple[Device, ...]:
        """The tablets that are lent to a class just now, the first paired first."""
        found = self.store.rows(
            f"select {_DEVICE} from device where reader = ? and ends_at > ? order by begun_at",
            [reader, now],
        )
        every = (Device(*row) for row in found)
        return tuple(one for one in every if self.is_paired(_PREFIX + one.device_id))

    def end(self, device_id: str, reader: str) -> None:
        """A tablet of a class is paired no more; its next request finds the door closed."""
        with self.store.together() as connection:
            connection.execute(
                "delete from session where subject in (select ? || device_id from device "
                "where device_id = ? and reader = ?)",
                [_PREFIX, device_id, reader],
            )
            connection.execute(
                "delete from device where device_id = ? and reader = ?", [device_id, reader]
            )

    def end_all(self, maker: str) -> None:
        """Every tablet of one teacher is paired no more, and her open codes are good no more."""
        with self.store.together() as connection:
            connection.execute("delete from pairing_code where maker = ?", [maker])
            connection.execute("delete from device where maker = ?", [maker])

    def _version(self, subject: str) -> int:
        if not subject.startswith("account:"):
            return 0
        account = self.accounts.of(subject.removeprefix("account:"))
        return account.version if account else -1


def plain_code(typed: str) -> str:
    """A code as it is compared: upper case, without spaces and hyphens."""
    return "".join(typed.split()).replace("-", "").upper()
