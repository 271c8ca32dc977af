"""Every fault that an import must catch, each with the small bad file that shows it."""

from .calendar import CALENDAR
from .cells import CELLS
from .coaching import COACHING
from .decisions import DECISIONS
from .draws import DRAWS
from .files import FILES
from .lessons import LESSONS
from .model import Expected, Fault
from .observations import OBSERVATIONS
from .plan import PLAN
from .roster import ROSTER
from .supports import SUPPORTS

__all__ = ["ALL", "Expected", "Fault"]

ALL: tuple[Fault, ...] = (
    *FILES,
    *CELLS,
    *ROSTER,
    *CALENDAR,
    *PLAN,
    *LESSONS,
    *DRAWS,
    *OBSERVATIONS,
    *COACHING,
    *DECISIONS,
    *SUPPORTS,
)
