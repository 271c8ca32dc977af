"""Each of ten questions is answered within three clicks, and the document asks the same ten."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.navigation import PAGES
from tests.app.questions import DOCUMENT, NAMES, NOWHERE, QUESTIONS, Question, answer_of, document


def test_there_are_ten_for_the_readers_who_bring_them() -> None:
    roles = [question.role for question in QUESTIONS]
    assert {role: roles.count(role) for role in NAMES} == {
        "principal": 3, "support": 3, "teacher": 3, "steward": 1,
    }  # fmt: skip


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.asks)
def test_a_question_takes_at_most_three_clicks_among_the_words_of_its_reader(
    question: Question,
) -> None:
    assert len(question.clicks) <= 3
    own = {page.path: page.word for page in PAGES if question.role in page.roles}
    assert question.page in own
    if question.clicks:
        assert question.clicks[0] == own[question.page]
    chosen = [click.split(": ", 1)[1] for click in question.clicks[1:]]
    assert chosen == list(question.choices.values())


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: one.asks)
def test_its_page_answers_it_in_a_small_school(question: Question, real_school: Path) -> None:
    assert answer_of(question, real_school) != NOWHERE


def test_the_document_holds_the_questions_and_an_answer_from_a_build_to_each() -> None:
    text = DOCUMENT.read_text(encoding="utf-8")
    answers = re.findall(r"^> (.+)$", text, re.M)
    assert len(answers) == len(QUESTIONS)
    assert NOWHERE not in answers
    for question, answer in zip(QUESTIONS, answers, strict=True):
        assert re.search(question.answer, answer), question.asks
    told = re.search(r"as of (\d{4}-\d{2}-\d{2})", text)
    assert told is not None
    assert document(answers, told[1]) == text
