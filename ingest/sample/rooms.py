"""The 22 rooms of the invented school: grades, session pattern, hours and places."""

from dataclasses import dataclass

from ingest.sample.options import Size

# minutes after midnight: first and last minute of a session
_HOURS = {"full_day": (510, 885), "am": (510, 675), "pm": (735, 900)}
_PLACES = {"KG": 20, "01": 21, "02": 22, "03": 23, "04": 23, "05": 24}
_TITLE_TEXT = (
    "Wrens Larks Herons Otters Foxes Badgers Hares Moles Oaks Alders Rowans Hazels Comets Lanterns "
    "Kites Sails Harbors Rivers Brooks Meadows Summits Beacons"
)
_TITLES = _TITLE_TEXT.split()
_GRADES = (
    ("KG",) * 4 + ("01",) * 4 + ("02",) * 3 + ("02;03",) + ("03",) * 3 + ("04",) * 4 + ("05",) * 3
)


@dataclass(frozen=True)
class Room:
    """One class. `teacher_key` names its teacher's post: the half-day pair shares one."""

    room_id: str
    title: str
    grades: tuple[str, ...]
    session_pattern: str
    teacher_key: str
    places: int
    is_co_taught: bool

    @property
    def opens_at(self) -> int:
        """Minutes after midnight at which the session begins."""
        return _HOURS[self.session_pattern][0]

    @property
    def closes_at(self) -> int:
        """Minutes after midnight at which the session ends."""
        return _HOURS[self.session_pattern][1]


def make_rooms(size: Size) -> tuple[Room, ...]:
    """All rooms, or those named in `size.room_ids`, in the order of their numbers."""
    rooms = tuple(_room(number) for number in range(1, len(_GRADES) + 1))
    return tuple(room for room in rooms if not size.room_ids or room.room_id in size.room_ids)


def _room(number: int) -> Room:
    grades = tuple(_GRADES[number - 1].split(";"))
    pattern = {1: "am", 2: "pm"}.get(number, "full_day")
    places = 17 if pattern != "full_day" else _PLACES[grades[0]]
    title = f"Room {number} ({_TITLES[number - 1]})"
    teacher_key = "half-day" if pattern != "full_day" else f"room-{number:02d}"
    return Room(f"qb-rm{number:02d}", title, grades, pattern, teacher_key, places, number == 14)
