"""Pictures of steps are chosen by plain words; none is of a face."""

from __future__ import annotations

from importlib.resources import files

import pytest

from app.paper.drawings import ALT, drawing, of_kind, of_step
from ingest.sample.routines import ROUTINES


@pytest.mark.parametrize(
    ("step", "alt"),
    [
        ("Listen to who is speaking", "an ear"),
        ("Hear the signal", "a bell"),
        ("Ask the question before the name", "a speech bubble"),
        ("Draw the name", "a card"),
        ("Draw what you heard", "a pencil"),
        ("Walk to your place", "footprints"),
        ("Leave a space", "two children with a space between them"),
        ("Put things home", "things going into a box"),
        ("Put the card aside until the round ends", "a card"),
        ("LEAVE TIME TO THINK", "a thought bubble"),
        ("Come in by your door", "a door"),
        ("Check with a partner", "two children side by side"),
        ("Sit in the circle", "a chair"),
        ("Wait", "a clock"),
    ],
)
def test_a_step_gets_the_picture_of_its_words(step: str, alt: str) -> None:
    found = of_step(step)
    assert found is not None
    assert found.alt == f"Picture: {alt}"


@pytest.mark.parametrize("step", ["Be ready", "Try it out", "Repeat", "Tasked", "", "Earn it"])
def test_a_step_without_a_word_of_ours_has_no_picture(step: str) -> None:
    assert of_step(step) is None


def test_most_steps_of_the_invented_school_have_a_picture() -> None:
    steps = [step.lstrip("!") for routine in ROUTINES for step in routine.steps]
    drawn = [step for step in steps if of_step(step)]
    assert len(drawn) / len(steps) > 0.7


def test_every_drawing_is_a_file_and_every_file_has_words() -> None:
    there = {one.name.removesuffix(".svg") for one in files("app.paper.drawings").iterdir()
             if one.name.endswith(".svg")}  # fmt: skip
    assert there == set(ALT)
    for name in ALT:
        assert drawing(name).svg.startswith("<svg")


@pytest.mark.parametrize(
    ("kind", "alt"),
    [("posture", "an ear"), ("turns", "a card"), ("voice", "bars from soft to loud"),
     ("movement", "footprints"), ("other", "children in a circle"),
     ("something new", "children in a circle")],
)  # fmt: skip
def test_each_kind_of_routine_has_its_picture(kind: str, alt: str) -> None:
    assert of_kind(kind).alt == f"Picture: {alt}"
