"""Counts that are no measures: what each is, in words, and the address that leads to it.

A measure has its definition from the models' catalogue; a plain count of rows has it here, so that
it opens like every other number.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.text.places import Place, linked


@dataclass(frozen=True)
class PlainNumber:
    """What is counted, what is left out, and what the count cannot say."""

    title: str
    counted: str
    left_out: str
    cannot_say: str

    def facts(self) -> dict[str, str]:
        """The same under plain headings."""
        told = {
            "Counted": self.counted,
            "Left out": self.left_out,
            "Cannot say": self.cannot_say,
        }
        return {name: text for name, text in told.items() if text}


PLAIN = {
    "classes_and_pupils": PlainNumber(
        "Classes and pupils",
        "Classes of the present school year and the pupils enrolled in them on the as-of day, from "
        "the roster.",
        "Classes of other years, and pupils whose enrolment has ended. A grade with too few of "
        "either is withheld.",
        "How many were there today. A mixed class counts in each of its grades, so grades can add "
        "up to more than the school.",
    ),
    "open_offers": PlainNumber(
        "Offers of a hand",
        "Lines of class and routine for which the signs are clear enough to offer help, after the "
        "check against luck and within what the team can carry.",
        "Lines held for a grade or school matter, and lines that wait until the team has hands "
        "free: they are counted apart. In a small school nothing is counted, so that no class can "
        "be told.",
        "Which class it is, and whether the offer was taken up. No offer does not mean that all is "
        "well: too few looks lead to none either.",
    ),
    "coaching_rounds": PlainNumber(
        "Rounds of coaching",
        "Rounds of coaching begun this year, and of those the ones after which what they were for "
        "moved: the mean of the visits since against the mean of those before.",
        "Terms with fewer rounds than may be shown. Rounds with too few visits since they began "
        "are “too early to say”.",
        "Whether the coaching was the cause: other things change in a term too.",
    ),
    "coaching_change": PlainNumber(
        "Before and after coaching",
        "The mean of the visits before the coaching began and the mean of those after it, of the "
        "same class and routine.",
        "Training visits and a relief teacher’s days. Two observers of one visit count once.",
        "Whether the coaching was the cause. With few visits on either side the means move by "
        "themselves.",
    ),
    "rows_received": PlainNumber(
        "Rows received",
        "Every row of every file that was ever received, and what became of it: taken in, already "
        "known, set aside for a correction, refused.",
        "Nothing: received = taken in + already known + set aside + refused is checked for each "
        "file.",
        "Whether everything that happened was written down.",
    ),
    "late_entries": PlainNumber(
        "Lessons entered late",
        "Lessons written down on a later school day than they were given, of all lessons.",
        "Nothing.",
        "Whether a late entry is wrong. Memory fades, so late ones deserve a little less trust.",
    ),
    "lessons_by_week": PlainNumber(
        "Lessons given and planned, week by week",
        "Lessons logged as given in each week, beside those of the plan that fell due in it.",
        "Lessons that nobody wrote down. Extra lessons count here, so that a week can show more "
        "given than planned.",
        "Whether a lesson was good, or who heard it.",
    ),
    "weakest_step": PlainNumber(
        "The step that holds least often",
        "Times the step was seen done, of the times it was seen done or not done, in this term’s "
        "visits to all classes.",
        "Visits on which the step did not apply or could not be seen.",
        "Why it is left out: it may be too long, or in the wrong place.",
    ),
    "visits_made": PlainNumber(
        "Visits",
        "Visits written down, each with its day.",
        "Visits set aside for a correction.",
        "Anything on its own: one visit says little.",
    ),
    "turn_checks": PlainNumber(
        "Findings in the draws",
        "What a replay of the draws found, day by day, against the roster, attendance and the "
        "rounds.",
        "Rounds that are still open. Findings about children are counted only from ten on.",
        "Anything about a child: it is about cards.",
    ),
    "turns_of_class": PlainNumber(
        "Turns of my class",
        "Turns offered by lot this term, and who is waiting in the round that is running. A pass "
        "is a turn offered.",
        "Volunteers and names that you chose. Days on which a child was away do not count as "
        "waiting.",
        "Whether the draw is fair: chance alone is uneven early in a term.",
    ),
    "open_lines": PlainNumber(
        "Planned lessons without a log",
        "Lessons of the plan that have fallen due and of which nobody wrote what became.",
        "Lessons given, given in part or called off, and those still to come.",
        "Whether they happened. A missing log is not counted as “not taught”.",
    ),
    "teach_again": PlainNumber(
        "A good moment to teach again",
        "The last visits of the class for the routine, against its own visits before them, and the "
        "school days since it was last taught.",
        "Other classes: it is your class against its own past.",
        "What has to be done. It is a suggestion, and the plan is yours.",
    ),
}


def plain(
    name: str, *, school: object = "", room: object = "", term: object = "", routine: object = "*"
) -> Place:
    """The place of a plain count, of a school or of one class; `KeyError` for an unknown one."""
    PLAIN[name]
    is_class = bool(room)
    return Place(
        measure=name,
        level="class" if is_class else "school",
        key=str(room) if is_class else "",
        school="" if is_class else str(school),
        routine=str(routine),
        term=str(term),
    )


def counted_link(text: str, name: str, **where: object) -> str:
    """Text that leads to a plain count's page."""
    return linked(text, plain(name, **where))
