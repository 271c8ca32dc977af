"""A password opens what was stored of it, whole, and nothing else."""

from __future__ import annotations

from app.door import passwords
from tests.app.door.inside import hash_of


def test_what_stands_in_for_a_missing_password_opens_nothing() -> None:
    stand_in = "nobody's password, checked in place of one that is not there"
    assert passwords._HASHER.verify(passwords._NOBODY, stand_in)
    assert not passwords.fits(None, stand_in)


def test_a_longer_word_is_not_cut_to_fit() -> None:
    stored = hash_of("turnip" * 150 + "x" * 100)
    assert passwords.fits(stored, "turnip" * 150 + "x" * 100)
    assert not passwords.fits(stored, "turnip" * 150 + "x" * 101)


def test_one_word_in_two_spellings_of_the_same_letters_is_the_same() -> None:
    assert passwords.fits(hash_of("élèves du cours"), "e\u0301le\u0300ves du cours")


def test_a_damaged_hash_opens_nothing() -> None:
    for stored in ("", "x", "$argon2id$v=19$m=65536,t=3,p=4$", hash_of("turnip ladder")[:-4]):
        assert not passwords.fits(stored, "turnip ladder")
