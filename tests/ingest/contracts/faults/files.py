"""Faults of the form of a file, which no feed is safe from."""

from __future__ import annotations

from .model import Expected, Fault, aside, refused, row

_HEADER = "class_id,routine_id,week_first_on,families_asked,families_reported"
_ROW = "qb-robin,settle,2025-09-29,4,2"


def _text(name: str, expected: tuple[Expected, ...], lines: list[str], received: int = 1) -> Fault:
    raw = "\r\n".join([*lines, ""]).encode()
    return Fault(name, "family_practice", (), expected, raw=raw, received=received)


FILES = (
    Fault(
        "wrong_encoding",
        "people",
        (),
        refused("wrong_encoding", None, 2),
        raw="person_id,role,given_name,family_name\r\npu-0091,student,Zoë,Birkrow\r\n".encode(
            "cp1252"
        ),
        received=1,
    ),
    _text(
        "wrong_delimiter",
        refused("wrong_delimiter", None, 1),
        [_HEADER.replace(",", "|"), _ROW.replace(",", "|")],
    ),
    _text(
        "missing_column",
        refused("missing_column", "families_asked", 1),
        [_HEADER.replace(",families_asked", ""), "qb-robin,settle,2025-09-29,2"],
    ),
    _text(
        "unknown_column",
        refused("unknown_column", "remarks", 1),
        [f"{_HEADER},remarks", f"{_ROW},fine"],
    ),
    _text(
        "duplicate_column",
        refused("duplicate_column", "families_asked", 1),
        [f"{_HEADER},families_asked", f"{_ROW},4"],
    ),
    _text(
        "short_row",
        aside("short_row", None, 3),
        [_HEADER, _ROW, "qb-oak,settle,2025-09-29,4"],
        2,
    ),
    _text(
        "long_row",
        aside("long_row", None, 3),
        [_HEADER, _ROW, "qb-oak,settle,2025-09-29,4,2,9"],
        2,
    ),
    _text(
        "unclosed_quote",
        refused("unclosed_quote", None, 2),
        [_HEADER, _ROW.replace("settle", '"settle'), "qb-oak,settle,2025-09-29,4,2"],
        2,
    ),
    _text("nul_byte", refused("nul_byte", None, 2), [_HEADER, _ROW.replace("settle", "set\0tle")]),
    _text("empty_file", refused("empty_file"), [_HEADER], 0),
    _text(
        "date_order_swapped",
        refused("date_order_swapped", "week_first_on"),
        [_HEADER, "qb-robin,settle,29/09/2025,4,2", "qb-oak,settle,22/09/2025,4,2"],
        2,
    ),
    Fault(
        "names_for_keys",
        "routine_lessons",
        tuple(
            row(lesson_id=f"les-90{number}", started_at_local=f"1{number}:00", entered_by=name)
            for number, name in enumerate(("Aline Brockwell", "Joss Ferrand", "Corin Mossop"))
        ),
        refused("names_for_keys", "entered_by"),
    ),
    Fault(
        "duplicate_upload",
        "family_practice",
        (row(),),
        (Expected("duplicate_upload", "known", None, None),),
        before={"family_practice": (row(),)},
        known=1,
    ),
)
