"""The words on paper for the room and for home."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence

from app.text.numbers import missing

Row = Mapping[Hashable, object]
VOICE = ("silent", "whisper", "conversation", "to the whole class", "outdoors")

CARD_TITLE = "Paper for the room"
CARD_NOTE = (
    "For a room without a device: a card a routine for the wall, half a page for families, cards "
    "for the draw, and sheets to write on that the office types in."
)
TURNS_NOTE = "Names to cut out and draw, blank ones for newcomers, and sheets to write turns on."
NAMES_NOTE = (
    "The cards for the draw and the last of the tally sheets hold the children’s names: keep them "
    "where you keep the register."
)
ALL_ROUTINES = "All routines"
LABEL = {
    "draw-cards": "Cards for the draw (PDF)",
    "routine-cards": "Routine cards (PDF)",
    "home": "Half page for home (PDF)",
    "tally": "Tally sheets (PDF)",
}

CARDS = "Cards for the draw"
CARDS_FOOT = (
    "Cut along the dashed lines. Every child may pass, get help or answer another way. Keep names "
    "with the register."
)
ROUTINE_CARDS = "Routine cards"
OTHER_WAYS = "Other ways that count"
NO_OTHER_WAYS = (
    "The school has not written any down yet. A child’s plan always comes first, and every child "
    "may do it another way."
)
ALWAYS = "A child’s plan always comes first. Nobody is asked to look at anyone."
NO_STEPS = "The steps of this routine have not been written down yet."

HOME = "To try at home"
HOME_STEPS = "What we do at school"
HOME_PRACTICE = "Three minutes at home"
HOME_SLIP_LINE = "We tried it this week."
HOME_SLIP_NOTE = (
    "No name, please. Send this slip back if you like. The class adds up the slips and keeps one "
    "number: how many families tried it, never which."
)
HOME_CARE_TITLE = "Please know"
CUT = "Cut in the middle."
HOME_CARE = (
    "This is an offer, not homework. Leave it when the day is full, and stop when it is no "
    "longer fun.",
    "Talk, silence, looking and taking turns mean different things in different families. Do it "
    "your way, in your language, and tell us what should be different at school.",
    "If you worry about your child, please talk to us rather than write it here.",
)
_MINUTES = {
    "posture": (
        "Choose a quiet moment. Let your child show you how she or he listens best.",
        "One tells something short, the other listens in her or his own way. Then swap.",
        "Ask each other: what helped you to listen?",
    ),
    "turns": (
        "Ask a question that everyone can answer, such as: what was good today?",
        "Wait while you all count to three in your heads. Then draw a name from a cup.",
        "Whoever is drawn answers, points, asks for help or passes. Go on until each had a turn.",
    ),
    "voice": (
        "Name what you are about to do, such as reading or playing outside.",
        "Agree on a voice for it and try it out together.",
        "Change the game and find the voice for that one.",
    ),
    "movement": (
        "Choose a way through your home or to your door.",
        "Do the steps slowly together, then at your own pace. Let your child lead once.",
        "Ask each other: which step was easy, and where did we need more time?",
    ),
}
_ANY_MINUTES = (
    "Choose a moment of the day in which it fits.",
    "Do the steps together once. Then let your child lead.",
    "Ask each other: what helped, and what would you do another way?",
)

TALLY = "Tally sheets"
TALLY_FOOT = (
    "No names, diagnoses or incidents in notes. A cell may stay empty: that counts as not known, "
    "never as nothing."
)
TALLY_KEYS = "Keys for typing it in"
TALLY_KEYS_NOTE = (
    "Only for whoever types the sheets in. Keep this page where you keep the register, and do not "
    "pass it on with the sheets."
)
NEEDED = "* is needed in every row that is typed in."
MADE_KEYS = {
    "participation_draws": "{class_id}-{drawn_on}-{sequence_number}, such as "
    "{example}-2026-05-15-1",
    "routine_lessons": "{class_id}-{taught_on}-{routine_id}, such as {example}-2026-05-15-line-up; "
    "the second of a day ends in -2",
    "observation_sessions": "{class_id}-{observed_on}-{started_at_local}-{observer_id}; the same "
    "key in every row of the visit",
}
YOUR_CLASS = "class-key"


def left_to_the_office(feed: str, title: str, names: Sequence[str], class_id: str) -> str:
    """How a sheet is typed in: into which file, and how the cells that are not on it are made."""
    key, *more = names
    pattern = MADE_KEYS[feed]
    made = pattern.replace("{example}", class_id or YOUR_CLASS).replace("{", "").replace("}", "")
    own = f" class_id is {class_id}." if class_id else ""
    rest = [name for name in more if name != "class_id"]
    empty = f" Left empty or filled in by the office: {', '.join(rest)}." if rest else ""
    return f"{title} are typed into {feed}. Make {key} of {made}.{own}{empty} {NEEDED}"


def voice_words(level: object) -> str:
    """The expected voice level in words; empty when it does not matter."""
    if missing(level):
        return ""
    number = int(float(str(level)))
    return f"Voice: {number}, {VOICE[number]}" if 0 <= number < len(VOICE) else f"Voice: {number}"


def voice_alt(level: object) -> str:
    """What stands in for the bars of a voice level."""
    return f"Picture: {voice_words(level).lower()}, of 0 to {len(VOICE) - 1}"


def practice(kind: object) -> tuple[str, ...]:
    """How to practise a kind of routine in three minutes at home."""
    return _MINUTES.get(str(kind), _ANY_MINUTES)


def other_ways(routine: Row) -> str:
    """The alternatives that the school accepts, in its own words."""
    told = routine.get("accepted_alternatives")
    return NO_OTHER_WAYS if missing(told) or not str(told).strip() else str(told)
