"""A file that a page offers goes to the reader of that page and to nobody else."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from app.door import Rules
from app.files import SHELF, Offered, offered
from app.files.shelf import Shelf
from tests.app.door.inside import HOST, School, dashboard, school, sign_in, with_rules

PAGE = "20260515 /schoolwide?term=Spring"


@pytest.fixture
def own(tmp_path: Path) -> School:
    return school(tmp_path)


@pytest.fixture
def file() -> Offered:
    """A file of the principal's page."""
    made = offered(
        "principal", PAGE, "turns-2026-05-15.csv", "text/csv", lambda: b"Child,Turns\r\n"
    )
    SHELF.put([made])
    return made


def test_whoever_has_not_signed_in_gets_nothing(own: School, file: Offered) -> None:
    answer = own.browser().get(f"/{file.address}")
    assert answer.status_code == 401
    assert b"Child" not in answer.content


def test_the_reader_of_the_page_gets_the_file_under_its_name(own: School, file: Offered) -> None:
    browser = own.browser()
    sign_in(browser, "anna")
    answer = browser.get(f"/{file.address}")
    assert answer.status_code == 200
    assert answer.content == b"Child,Turns\r\n"
    assert answer.headers["content-type"].startswith("text/csv")
    assert (
        answer.headers["content-disposition"] == "attachment; filename*=UTF-8''turns-2026-05-15.csv"
    )
    assert answer.headers["cache-control"] == "no-store"


def test_another_reader_is_answered_as_if_it_were_not_there(own: School, file: Offered) -> None:
    browser = own.browser()
    sign_in(browser, "maren")
    refused, unknown = browser.get(f"/{file.address}"), browser.get(f"/take/{'0' * 64}/turns.csv")
    assert (refused.status_code, refused.text) == (unknown.status_code, unknown.text)
    assert refused.status_code == 410
    assert "Load it again" in refused.text


def test_a_file_is_fetched_under_its_own_name_only(own: School, file: Offered) -> None:
    browser = own.browser()
    sign_in(browser, "anna")
    assert browser.get(f"/take/{file.token}/other.csv").status_code == 410


def test_below_a_path_of_a_server_the_address_is_below_it_too(own: School, file: Offered) -> None:
    browser = with_rules(own, public_address=f"http://{HOST}/roundelay").browser()
    assert browser.get(f"/roundelay/{file.address}").status_code == 401
    assert browser.get(f"/{file.address}").status_code == 404


def test_without_a_sign_in_the_one_reader_of_this_machine_gets_it(file: Offered) -> None:
    browser = TestClient(
        dashboard(Rules(), None), base_url=f"http://{HOST}", client=("127.0.0.1", 5)
    )
    assert browser.get(f"/{file.address}").content == b"Child,Turns\r\n"


def test_a_file_that_cannot_be_made_shows_no_insides(own: School) -> None:
    def broken() -> bytes:
        raise ValueError("secret insides")

    made = offered("principal", PAGE, "broken.csv", "text/csv", broken)
    SHELF.put([made])
    browser = own.browser()
    sign_in(browser, "anna")
    answer = browser.get(f"/{made.address}")
    assert answer.status_code == 500
    assert "secret" not in answer.text


def test_an_address_differs_by_reader_page_and_name_and_is_the_same_each_time() -> None:
    def token(reader: str = "principal", page: str = PAGE, name: str = "turns.csv") -> str:
        return offered(reader, page, name, "text/csv", bytes).token

    others = {token("support"), token(page="x"), token(name="turns.xlsx")}
    assert len(others | {token()}) == 4
    assert token() == token()


def test_the_files_that_were_offered_longest_ago_go_first() -> None:
    shelf = Shelf(most=2)
    files = [offered("principal", PAGE, f"{n}.csv", "text/csv", bytes) for n in range(3)]
    shelf.put(files[:2])
    shelf.put(files[:1])
    shelf.put(files[2:])
    found = [shelf.find(one.token, one.name) is not None for one in files]
    assert found == [True, False, True]
