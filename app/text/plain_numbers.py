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
        "moved up: the whole range of the difference between the visits since and those before "
        "lies above zero.",
        "Terms with fewer rounds than may be shown. Rounds with too few visits since they began "
        "are “too early to say”.",
        "Whether the coaching was the cause: other things change in a term too.",
    ),
    "coaching_change": PlainNumber(
        "Before and after coaching",
        "The mean of the visits from the last named change to the start of coaching, and the mean "
        "of those from its first day on, of the same class and routine. Moved means that the whole "
        "range of the difference lies on one side of zero.",
        "Training visits and a relief teacher’s days. Two observers of one visit count once.",
        "Whether the coaching was the cause. With few visits on either side the means move by "
        "themselves.",
    ),
    "since_decision": PlainNumber(
        "Before and since a decision",
        "The mean of the newest visits up to the day on which the support team decided, six at "
        "most, and the mean of the visits after it, of the same class and routine. Moved means "
        "that the whole range of the difference lies on one side of zero.",
        "Training visits and a relief teacher’s days. Visits before a new wording or another "
        "teacher, and those after the next decision.",
        "Whether the decision was the cause. The team looks when a figure is low, and low figures "
        "tend to rise by themselves.",
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
    "watched_by_two": PlainNumber(
        "Agreement of two observers",
        "Everything that two observers of one visit both could tell, and how often they wrote the "
        "same. Beyond chance is Cohen’s kappa, with weights for levels and ratings; its range "
        "counts looks of one visit as fewer, because they are alike.",
        "Training visits, and what only one of the two could see.",
        "Who of the two is right. Where nearly everything is alike, kappa falls although they "
        "agree.",
    ),
    "observers_compared": PlainNumber(
        "How each observer sees",
        "How much more, or less, an observer sees as met than the middle one, this school year, "
        "from visits watched by two, with what luck may have done taken off.",
        "Schools with too few observers. A difference of less than the school’s setting counts as "
        "alike.",
        "Who sees rightly. It is no order of merit and no matter for appraisal.",
    ),
    "visits_needed": PlainNumber(
        "How many visits it takes",
        "How far another set of as many visits by other people would tell the same of a class, "
        "from 0 to 1 (phi), worked out from how much classes, visits and observers differ.",
        "Relief teachers’ days.",
        "Anything about one class. With few visits in a school, figures published of other "
        "instruments stand in, and it is said.",
    ),
    "class_spread": PlainNumber(
        "How much classes differ",
        "The spread between the classes’ own means beyond the spread that visits to one and the "
        "same class show, this term.",
        "Classes that nobody has visited for the routine.",
        "Which class it is. No sign of a difference is not a proof that there is none.",
    ),
    "what_moved": PlainNumber(
        "What has moved",
        "Each visit (each week, for the school) since the last named change, against the middle of "
        "them all: how many in a row lie on one side of it, and how often they cross it.",
        "A relief teacher’s visits, and weeks that are withheld.",
        "Why it moved. Nothing is tested under ten, and rising a few times in a row is no sign.",
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
