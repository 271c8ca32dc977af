"""When a page cannot be set, the sheet handed out says so, kindly and without its insides."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.access import Refused
from app.paper.instead import made_or_said
from app.paper.press import TooLong
from tests.app.paper.reading import Printed
from tests.app.paper.worlds import opened


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        (Refused("No offer of that name is open."), "No offer of that name is open."),
        (TooLong("The brief does not fit two pages."), "The brief does not fit two pages."),
        (KeyError("deep inside"), "It is our mistake, not yours."),
    ],
)
def test_the_reader_is_told_why_and_whom_to_tell(
    school: Path, problem: Exception, told: str
) -> None:
    def make() -> bytes:
        raise problem

    sheet = Printed(made_or_said(make, opened(school)[1]))
    assert len(sheet.file.pages) == 1
    assert "<pdfuaid:part>1</pdfuaid:part>" in sheet.metadata
    assert sheet.text.startswith("This page could not be printed")
    assert told in sheet.text
    assert "person who looks after Roundelay" in sheet.text
    assert "deep inside" not in sheet.text


def test_a_page_that_is_made_is_handed_out_as_it_is(school: Path) -> None:
    assert made_or_said(lambda: b"%PDF", opened(school)[1]) == b"%PDF"
