"""Cards and half pages are tagged PDF, hold the own class's names only, and fit their sheets."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest

from app.access import Refused
from app.paper.cards import PER_PAGE
from app.paper.kinds import KINDS
from app.text import room_paper
from tests.app.invented import ROUTINES, STEPS, rows
from tests.app.invented_rooms import NAMES
from tests.app.paper.reading import Printed, plain
from tests.app.paper.rooms import A4, A4_ACROSS, as_teacher, printed, sizes
from tests.app.paper.worlds import opened, written

WORDS = "all of it at once as every one of us agreed on that long day "


@pytest.fixture(scope="module")
def every(school: Path) -> dict[str, Printed]:
    return {kind: printed(kind, as_teacher(school)) for kind in KINDS}


def test_each_declares_itself_accessible_with_title_and_language(every: dict[str, Printed]) -> None:
    for kind, page in every.items():
        assert "<pdfuaid:part>1</pdfuaid:part>" in page.metadata, kind
        assert page.root["/Lang"] == "en-GB"
        assert page.file.metadata is not None
        assert "Room 3" in str(page.file.metadata.title)
        headings = [tag for tag in page.tags if tag in {"H1", "H2", "H3"}]
        assert headings[0] == "H1"
        assert all(page.alternatives), kind
        assert "Invented school" in page.text


def test_each_stands_on_a4_as_it_is_held(every: dict[str, Printed]) -> None:
    assert sizes(every["draw-cards"]) == sizes(every["routine-cards"]) == {A4}
    assert sizes(every["home"]) == sizes(every["tally"]) == {A4_ACROSS}


def test_every_child_who_may_be_drawn_has_one_card_and_blank_ones_fill_the_page(
    tmp_path: Path,
) -> None:
    told = rows()
    out = next(row for row in told["room_turns"] if row["pupil_id"] == "room-3-2")
    out["is_eligible"] = False
    page = printed("draw-cards", as_teacher(written(tmp_path, told)))
    words = page.text.split()
    able = [name for name in NAMES if name != out["given_name"]]
    assert {name: words.count(name) for name in able} == dict.fromkeys(able, 1)
    assert str(out["given_name"]) not in words
    assert len(page.file.pages) == 2
    assert page.text.count("Room 3") - 1 == 2 * PER_PAGE


def test_children_who_share_a_name_are_told_apart(tmp_path: Path) -> None:
    told = rows()
    own = [row for row in told["room_turns"] if row["class_id"] == "room-3"]
    own[0] |= {"given_name": "Ada", "family_initial": "M"}
    page = printed("draw-cards", as_teacher(written(tmp_path, told)))
    assert "Ada M." in page.text
    assert "Ada K." in page.text


def test_names_of_another_class_stand_nowhere(tmp_path: Path) -> None:
    told = rows()
    for row in told["room_turns"]:
        if row["class_id"] == "room-2":
            row["given_name"] = f"Zed{row['pupil_id'][-1]}"
    workspace = written(tmp_path, told)
    for kind in KINDS:
        page = printed(kind, as_teacher(workspace))
        assert "Zed" not in page.text, kind
        assert "room-2" not in page.text
    assert "Zed1" in printed("draw-cards", as_teacher(workspace, "room-2")).text


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_a_reader_without_a_class_gets_no_name_and_no_key_of_a_child(
    school: Path, kind: str
) -> None:
    page = printed(kind, opened(school, "principal"))
    assert [name for name in NAMES if name in page.text.split()] == []
    assert "room-" not in page.text
    assert page.file.pages


def test_a_routine_card_says_its_steps_its_voice_and_its_other_ways(tmp_path: Path) -> None:
    told = rows()
    voice = next(row for row in told["mart_routines"] if row["routine_id"] == "voice")
    voice |= {"expected_voice_level": 2, "accepted_alternatives": "Signs or a device"}
    page = printed("routine-cards", as_teacher(written(tmp_path, told)), "voice")
    assert len(page.file.pages) == 1
    places = [page.text.index(step) for step in STEPS["voice"]]
    assert places == sorted(places)
    assert "Voice: 2, conversation" in page.text
    assert "Other ways that count Signs or a device" in page.text
    assert "Picture: voice: 2, conversation, of 0 to 4" in page.alternatives


def test_every_routine_has_a_card_of_its_own(every: dict[str, Printed]) -> None:
    texts = [plain(page.extract_text()) for page in every["routine-cards"].file.pages]
    assert [name for text, (name, *_) in zip(texts, ROUTINES.values(), strict=True)
            if text.startswith(name)] == [name for name, *_ in ROUTINES.values()]  # fmt: skip


def test_a_step_without_a_fitting_picture_shows_its_number_once(tmp_path: Path) -> None:
    told = rows()
    own = [row for row in told["mart_routine_steps"] if row["routine_id"] == "line"]
    for row in own:
        row["step_text"] = "Zzz"
    page = printed("routine-cards", as_teacher(written(tmp_path, told)), "line")
    assert page.alternatives == ["Picture: footprints"]
    assert [word for word in page.text.split() if word.isdigit()] == ["1", "2", "3", "4"]


def test_no_alternatives_and_no_steps_are_said_and_not_left_empty(tmp_path: Path) -> None:
    told = rows()
    told["mart_routine_steps"] = []
    page = printed("routine-cards", as_teacher(written(tmp_path, told)), "line")
    assert plain(room_paper.NO_STEPS) in page.text
    assert plain(room_paper.NO_OTHER_WAYS) in page.text


def test_a_half_page_stands_twice_on_its_sheet_and_is_heard_once(school: Path) -> None:
    page = printed("home", as_teacher(school), "Fair turns")
    assert len(page.file.pages) == 1
    assert page.text.count("We tried it this week.") == 2
    assert page.tags.count("H1") == 1
    for text in (*room_paper.HOME_CARE, *room_paper.practice("turns"), room_paper.HOME_SLIP_NOTE):
        assert page.text.count(plain(text)) == 2


@pytest.mark.parametrize("kind", ["routine-cards", "home"])
def test_the_longest_that_the_files_allow_still_fits(tmp_path: Path, kind: str) -> None:
    told = rows()
    line = next(row for row in told["mart_routines"] if row["routine_id"] == "line")
    line |= {"name": (WORDS * 2)[:120], "accepted_alternatives": (WORDS * 9)[:500]}
    line["expected_voice_level"] = 4
    steps = [row for row in told["mart_routine_steps"] if row["routine_id"] != "line"]
    step = told["mart_routine_steps"][0]
    for number in range(1, 9):
        text = f"Part{number} {WORDS * 3}"[:200]
        steps.append({**step, "routine_id": "line", "step_number": number, "step_text": text})
    told["mart_routine_steps"] = steps
    page = printed(kind, as_teacher(written(tmp_path, told)), "line")
    assert len(page.file.pages) == 1
    times = 1 if kind == "routine-cards" else 2
    for number in range(1, 9):
        assert page.text.count(f"Part{number} ") == times
    lowest = min(lowest_line(sheet) for sheet in page.file.pages)
    assert lowest > 12


def lowest_line(sheet: pypdf.PageObject) -> float:
    """How far above the edge of the paper the lowest line stands, in points."""
    found: list[float] = []

    def note(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            found.append(cm[3] * tm[5] + cm[5])

    sheet.extract_text(visitor_text=note)
    return min(found)


def test_a_long_name_of_a_child_keeps_to_its_card(tmp_path: Path) -> None:
    told = rows()
    told["room_turns"] = [row for row in told["room_turns"] if row["class_id"] == "room-3"]
    told["room_turns"][0]["given_name"] = "Maximiliane-Wilhelmina Theodora"
    page = printed("draw-cards", as_teacher(written(tmp_path, told)))
    assert len(page.file.pages) == 2
    assert "Wilhelmina" in page.text


def test_letters_that_the_typeface_lacks_do_not_stop_the_cards(tmp_path: Path) -> None:
    told = rows()
    told["room_turns"][20]["given_name"] = "小明"
    workspace = written(tmp_path, told)
    class_id = str(told["room_turns"][20]["class_id"])
    assert printed("draw-cards", as_teacher(workspace, class_id)).file.pages


def test_a_routine_that_is_not_there_is_refused_with_those_that_are(school: Path) -> None:
    with pytest.raises(Refused, match=r"no routine “juggling”.+Fair turns \(turns\)"):
        printed("home", as_teacher(school), "juggling")


@pytest.mark.parametrize("kind", ["routine-cards", "home"])
def test_before_a_routine_is_defined_there_is_no_card(tmp_path: Path, kind: str) -> None:
    workspace = written(tmp_path, {"mart_school": rows(empty=True)["mart_school"]})
    with pytest.raises(Refused, match="No routine has been defined yet"):
        printed(kind, opened(workspace))


def test_the_same_build_gives_the_same_bytes(school: Path) -> None:
    for kind, make in KINDS.items():
        assert make(*as_teacher(school), "", "") == make(*as_teacher(school), "", ""), kind
