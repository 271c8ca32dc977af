"""The routines the invented school agreed, with their steps; one is re-worded in the middle.

The wording is our own. No routine asks for one listening posture or for eye contact, and each says
which other ways of meeting it are accepted.
"""

from dataclasses import dataclass
from datetime import date

from ingest.sample.options import FIRST_ON, REWORDED_ON

ALL_GRADES = "KG;01;02;03;04;05"


@dataclass(frozen=True)
class Routine:
    """One version of one routine; a step that starts with `!` is critical."""

    routine_id: str
    version: int
    name: str
    expectation: str
    setting: str
    tier: int
    kind: str
    voice_level: int | None
    target_seconds: int | None
    alternatives: str
    steps: tuple[str, ...]
    valid_from_on: date = FIRST_ON
    valid_to_on: date | None = None


ROUTINES = (
    Routine(
        "settle-to-listen",
        1,
        "Settling to listen",
        "We listen to each other",
        "classroom",
        1,
        "posture",
        0,
        60,
        "Standing, moving, drawing or holding something; looking anywhere",
        ("!Finish what you are doing", "Put things down", "!Give the speaker quiet", "Be ready"),
        valid_to_on=REWORDED_ON,
    ),
    Routine(
        "settle-to-listen",
        2,
        "Settling to listen",
        "We listen to each other",
        "classroom",
        1,
        "posture",
        0,
        60,
        "Standing, moving, drawing or holding something; looking anywhere; a quiet place near by",
        (
            "!Finish what you are doing",
            "Choose the way you listen best",
            "!Give the speaker quiet",
            "Say or show that you are ready",
            "Keep a question for the pause",
        ),
        valid_from_on=REWORDED_ON,
    ),
    Routine(
        "fair-turns",
        1,
        "Fair turns",
        "Everyone is heard",
        "classroom",
        1,
        "turns",
        3,
        None,
        "Pass, ask for help, point, show, draw, or answer a partner first",
        (
            "!Ask the question before the name",
            "!Leave time to think",
            "Draw the name",
            "!Take any way of answering",
            "Thank the answer, right or not",
            "Put the card aside until the round ends",
        ),
    ),
    Routine(
        "voice-to-fit",
        1,
        "A voice to fit the task",
        "We care for each other's work",
        "classroom",
        1,
        "voice",
        2,
        None,
        "Signs, pictures or a device instead of speech; a quiet corner for loud sounds",
        ("!Name the task", "!Name the voice level", "Try it out", "Check it half way"),
    ),
    Routine(
        "line-up",
        1,
        "Lining up",
        "We move safely",
        "corridor",
        1,
        "movement",
        1,
        90,
        "Going first or last, with a partner, or a minute early",
        ("!Hear the signal", "Push in the chair", "!Walk to your place", "Leave a space", "!Wait"),
    ),
    Routine(
        "tidy-finish",
        1,
        "A tidy finish",
        "We care for our place",
        "classroom",
        1,
        "other",
        2,
        180,
        "One thing at a time from a picture list; help from a partner",
        ("!Stop at the signal", "Put things home", "Wipe or sweep", "!Check with a partner"),
    ),
    Routine(
        "arrival",
        1,
        "Arrival",
        "We begin together",
        "entrance",
        1,
        "movement",
        2,
        300,
        "A quiet way in, a later start, or a familiar adult at the door",
        ("!Come in by your door", "Greet in your own way", "Hang up and unpack", "!Start the task"),
    ),
    Routine(
        "morning-greeting-plan",
        1,
        "Morning greeting plan",
        "Someone knows how I am",
        "entrance",
        2,
        "other",
        1,
        None,
        "Greeting by a sign, a card or a nod; greeting later in the morning",
        ("!Meet the same adult", "Choose a goal for the day", "!Look back before going home"),
    ),
    Routine(
        "individual-plan-practice",
        1,
        "Individual plan practice",
        "Each of us learns our own way",
        "support_room",
        3,
        "other",
        1,
        None,
        "Whatever the child's plan says comes before this routine",
        ("!Open the plan together", "Practise one step", "!Say what helped", "Agree the next try"),
    ),
)
TIER_ONE = tuple(r.routine_id for r in ROUTINES if r.tier == 1 and r.version == 1)
ROUTINE_IDS = tuple(r.routine_id for r in ROUTINES if r.version == 1)


def live_version(routine_id: str, day: date) -> Routine:
    """The wording that holds on this day."""
    return next(
        one
        for one in ROUTINES
        if one.routine_id == routine_id
        and one.valid_from_on <= day
        and (one.valid_to_on is None or day < one.valid_to_on)
    )


def routine_records() -> list[tuple[object, ...]]:
    """The routines feed."""
    return [
        (
            one.routine_id,
            one.version,
            one.name,
            one.expectation,
            one.setting,
            one.tier,
            one.kind,
            one.voice_level,
            one.target_seconds,
            ALL_GRADES,
            one.valid_from_on,
            one.valid_to_on,
            one.alternatives,
        )
        for one in ROUTINES
    ]


def step_records() -> list[tuple[object, ...]]:
    """The routine_steps feed, steps counted from 1."""
    return [
        (one.routine_id, one.version, number, text.lstrip("!"), text.startswith("!"))
        for one in ROUTINES
        for number, text in enumerate(one.steps, start=1)
    ]
