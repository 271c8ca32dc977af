"""The brief is two tagged pages that say what the screen says, whatever the school holds."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from app.access import Refused
from app.paper import brief, press
from app.paper.facts import facts_of
from app.queries import measures
from app.queries import school as ask
from app.text import cautions, health, matters, sentences, spread, tiers
from app.text.places import unlinked
from app.text.readings import pick, pick_row
from tests.app.invented import CLASSES, rows
from tests.app.paper import worlds
from tests.app.paper.reading import Printed, plain
from tests.app.paper.worlds import Rows, opened, written

A4 = (595, 842)
SCHOOL, TERM = "quillbrook", "spring"


@pytest.fixture(scope="module")
def printed(school: Path) -> Printed:
    return Printed(brief.printed(*opened(school)))


def said(text: str) -> str:
    return plain(unlinked(text).replace("**", ""))


def test_it_is_two_pages_of_a4(printed: Printed) -> None:
    sizes = [tuple(round(float(one)) for one in page.mediabox[2:]) for page in printed.file.pages]
    assert sizes == [A4, A4]


def test_it_declares_itself_accessible_with_title_and_language(printed: Printed) -> None:
    assert "<pdfuaid:part>1</pdfuaid:part>" in printed.metadata
    assert "/StructTreeRoot" in printed.root
    assert printed.root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert printed.root["/Lang"] == "en-GB"
    assert printed.file.metadata is not None
    title = "Brief for the governing board, spring term so far · Quillbrook Primary (invented)"
    assert printed.file.metadata.title == title
    assert printed.root["/ViewerPreferences"]["/DisplayDocTitle"]  # type: ignore[index]


def test_headings_come_in_order_and_every_table_has_header_cells(printed: Printed) -> None:
    headings = [tag for tag in printed.tags if tag in {"H1", "H2", "H3", "H4"}]
    assert headings[0] == "H1"
    assert set(headings[1:]) == {"H2"}
    assert len(headings) == 13
    assert printed.tags.count("Table") == printed.tags.count("THead") > 2
    assert printed.tags.count("TH") > printed.tags.count("Table")


def test_every_picture_has_words_with_its_numbers(printed: Printed, school: Path) -> None:
    told = printed.alternatives
    assert len(told) == 2 + 4 + 3 + 1
    assert all(len(text) > 20 for text in told)
    rows_of = measures.by_school_all_terms(opened(school)[0], SCHOOL, "responsiveness")
    got = pick(rows_of, routine_id="voice", term_id=TERM)
    assert got.value is not None
    mine = next(text for text in told if text.startswith("Voice to fit the task: Autumn"))
    assert f"Spring {round(got.value * 100)} %" in mine


def test_it_says_the_sentences_of_the_first_screen(printed: Printed, school: Path) -> None:
    scope, _ = opened(school)
    rows_now = measures.by_school(scope, SCHOOL, TERM)
    given = pick(rows_now, measure_name="dose", routine_id="*")
    held = pick(rows_now, measure_name="responsiveness", routine_id="*")
    row = pick_row(rows_now, measure_name="responsiveness", routine_id="*")
    found, coaching = ask.matters(scope, SCHOOL, TERM), ask.coaching(scope, SCHOOL)
    grades, routines = ask.grades(scope, SCHOOL), ask.routines(scope, SCHOOL)
    for text in (
        sentences.taught(given),
        sentences.taught_basis(given),
        sentences.holds(held),
        sentences.holds_basis(held, *matters.seen_classes(row)),
        matters.offers_sentence(found, coaching),
        matters.matter_note(found, grades, routines),
    ):
        assert said(text) in printed.text


def test_it_says_what_stands_under_them(printed: Printed, school: Path) -> None:
    scope, _ = opened(school)
    names = dict(
        zip(*(ask.routines(scope, SCHOOL)[c] for c in ("routine_id", "name")), strict=True)
    )
    differ = ask.spread(scope, SCHOOL, TERM, "responsiveness")
    given = tiers.given(
        measures.by_school(scope, SCHOOL, TERM), measures.by_tier(scope, SCHOOL, TERM)
    )
    total = ask.health_total(scope, SCHOOL).to_dict("records")[0]
    for text in (
        spread.sentence(differ, names),
        tiers.not_shown(given),
        health.sentence(total),
        health.late_sentence(ask.health(scope, SCHOOL)),
        health.balance(ask.health(scope, SCHOOL)),
        *cautions.EVERY,
    ):
        assert said(text)
        assert said(text) in printed.text


def test_its_foot_says_where_each_number_comes_from(printed: Printed) -> None:
    assert "build 2026-05-15-20260515T071000" in printed.text
    assert "Figures as of Friday 15 May 2026" in printed.text
    assert "What these numbers mean" in printed.text
    assert printed.text.count("Invented school") == 3
    assert "Page 1 of 2" in printed.text
    assert "Page 2 of 2" in printed.text


def test_a_real_school_is_not_called_invented(real_school: Path) -> None:
    text = Printed(brief.printed(*opened(real_school))).text
    assert "Invented school" not in text
    assert said(cautions.INVENTED) not in text


def test_nobody_and_no_single_class_is_named(printed: Printed) -> None:
    told = rows()
    names = {str(row[key]) for row in told["room_turns"] for key in row if key.endswith("_name")}
    assert len(names) > 5
    assert [name for name in names if name and name in printed.text] == []
    assert [title for title, _ in CLASSES.values() if title in printed.text] == []
    assert [key for key in CLASSES if key in printed.text] == []


def test_grades_stand_youngest_first_whatever_their_numbers(printed: Printed) -> None:
    table = printed.text[printed.text.index("Grade In place") :]
    places = [table.index(f"Grade {number}") for number in (1, 2, 3)]
    assert places == sorted(places)


def test_a_number_that_is_withheld_stands_nowhere(tmp_path: Path) -> None:
    workspace = written(tmp_path, worlds.with_everything_withheld())
    page = Printed(brief.printed(*opened(workspace)))
    for text in (page.text, " ".join(page.alternatives)):
        assert "43 %" not in text
        assert "withheld" in text
    assert "Withheld: fewer people than may be shown." in page.text
    assert len(page.file.pages) == 2


def test_only_the_withheld_number_is_left_out(tmp_path: Path) -> None:
    told = worlds.with_everything_withheld()
    kept = next(
        row
        for row in told["mart_measures_by_school"]
        if (row["measure_name"], row["routine_id"], row["term_id"]) == ("dose", "*", TERM)
    )
    kept["is_withheld"] = False
    page = Printed(brief.printed(*opened(written(tmp_path, told))))
    assert "43 % of the lessons planned so far have been given." in page.text


@pytest.mark.parametrize(
    "made",
    [
        worlds.with_a_long_name,
        lambda: worlds.with_routines(7),
        lambda: worlds.with_grades(17),
        worlds.before_the_first_term,
        worlds.without_anything,
        lambda: rows(empty=True),
    ],
    ids=["long name", "7 routines", "17 grades", "no term yet", "nothing", "empty"],
)
def test_it_keeps_to_two_pages(tmp_path: Path, made: Callable[[], Rows]) -> None:
    page = Printed(brief.printed(*opened(written(tmp_path, made()))))
    assert len(page.file.pages) == 2
    assert "nan" not in page.text.lower().split()
    assert "None" not in page.text.split()


def test_of_more_grades_than_fit_it_is_said(tmp_path: Path) -> None:
    page = Printed(brief.printed(*opened(written(tmp_path, worlds.with_grades(17)))))
    assert "1 more grade on the dashboard, under By grade." in page.text


def test_twenty_routines_are_all_there_and_of_more_it_is_said(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    twenty = Printed(brief.printed(*opened(written(tmp_path / "a", worlds.with_routines(20)))))
    pictures = [text for text in twenty.alternatives if "our line is" in text]
    assert len(pictures) == 1 + 20 + 3
    more = Printed(brief.printed(*opened(written(tmp_path / "b", worlds.with_routines(33)))))
    assert "13 more routines on the dashboard" in more.text
    assert [len(page.file.pages) for page in (twenty, more)] == [2, 2]


@pytest.mark.parametrize("name", ["Σχολείο Школа", "小学校", "School 😀"])
def test_letters_that_the_typeface_lacks_do_not_stop_it(tmp_path: Path, name: str) -> None:
    page = Printed(brief.printed(*opened(written(tmp_path, worlds.with_other_letters(name)))))
    assert len(page.file.pages) == 2
    assert "of the lessons planned so far have been given." in page.text


def test_the_same_build_gives_the_same_bytes_and_another_term_others(school: Path) -> None:
    scope, snapshot = opened(school)
    first = brief.printed(scope, snapshot)
    assert first == brief.printed(scope, snapshot, SCHOOL, TERM)
    autumn = Printed(brief.printed(scope, snapshot, SCHOOL, "Autumn term"))
    assert "Brief for the governing board, autumn term" in autumn.text
    assert not any("Spring" in text for text in autumn.alternatives)


def test_a_term_or_school_that_is_not_there_is_refused_with_those_that_are(school: Path) -> None:
    with pytest.raises(Refused, match=r"no term “summer”.+Autumn term \(autumn\), Winter"):
        brief.printed(*opened(school), term="summer")
    with pytest.raises(Refused, match="Quillbrook Primary"):
        brief.printed(*opened(school), school_id="elsewhere")


def test_a_picture_without_words_is_refused_by_the_press(school: Path) -> None:
    scope, snapshot = opened(school)
    told = brief.fitted(scope, snapshot, "", "")
    told["tiers"]["picture"]["alt"] = ""
    with pytest.raises(press.typst.TypstError, match="missing alt text"):
        press.pressed("brief", told, snapshot.built_at)


def test_contents_are_never_read_as_markup(tmp_path: Path) -> None:
    name = "#panic() *School* $x$ <tag> “quoted” \\ [a](b) 100 % // off"
    page = Printed(brief.printed(*opened(written(tmp_path, worlds.with_other_letters(name)))))
    assert plain(name) in page.text


def test_the_terms_shown_end_with_the_one_chosen(school: Path) -> None:
    scope, _ = opened(school)
    facts = facts_of(scope, SCHOOL, "winter", 40)
    assert [term["term_id"] for term in facts.terms] == ["autumn", "winter"]
    assert not facts.is_current
