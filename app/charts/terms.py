"""A stave of terms: one note for each term of one group, its range as a stem, its number beside it.

The same five lines, rests and double bars as a stave of weeks, for when a year must fit a thumb.
"""

from __future__ import annotations

from app.charts.frame import SHARES, Row, Spec, chart, end, field, labelled, layer
from app.charts.palette import SCREEN, Palette
from app.text.numbers import NBSP, known, percent, percent_range, whole_percent
from app.text.readings import Reading
from app.text.words import SUFFICIENCY, withheld

_LINES = (0, 25, 50, 75, 100)
_UP = {"domain": [0, 100], "nice": False}

Terms = list[tuple[str, Reading]]


def term_notes(
    terms: Terms,
    line: float | None = None,
    palette: Palette = SCREEN,
    height: int = 62,
    *,
    has_sign: bool = True,
) -> Spec:
    """The chart: `terms` in the order of the year, each with its short name and its reading.

    Without `has_sign` numbers stand alone, and the axis alone says that they are percents.
    """
    notes = [_note(place, got) for place, (_, got) in enumerate(terms) if got.is_known]
    rests = [
        {"from": place - 0.16, "to": place + 0.16, "y": 50, "is_hidden": got.is_withheld}
        for place, (_, got) in enumerate(terms)
        if not got.is_known
    ]
    across = {"domain": [-0.5, len(terms) - 0.5], "nice": False, "zero": False}
    layers = [
        _lines(terms, across, palette),
        *_bars(len(terms), across, palette),
        *_our_line(line, across, palette),
        *_rests(rests, across, palette),
        *_stems(notes, across, palette),
        *_notes(notes, across, palette),
        *_numbers(terms, across, palette, has_sign),
    ]
    return chart(layers, height, palette, padding={"left": 0, "right": 2, "top": 5, "bottom": 0})


def term_words(name: str, terms: Terms, line: float | None = None) -> str:
    """The same in words, for those who hear the page."""
    said = [f"{term} {_said(got)}" for term, got in terms]
    ours = f"; our line is {percent(line)}" if line is not None else ""
    return f"{name}: {', '.join(said) or 'no term has begun'}{ours}."


def _said(got: Reading) -> str:
    if got.is_withheld:
        return withheld(got)
    if not got.is_known:
        return SUFFICIENCY["none"]
    ends = percent_range(got.low, got.high)
    thin = "" if got.is_enough else f", {SUFFICIENCY['thin']}"
    return f"{percent(got.value)}{f' ({ends})' if ends else ''}{thin}"


def _note(place: int, got: Reading) -> Row:
    value = whole_percent(got.value or 0)
    low = whole_percent(got.low) if got.low is not None and known(got.low) else value
    high = whole_percent(got.high) if got.high is not None and known(got.high) else value
    return {"at": place, "value": value, "low": low, "high": high, "is_enough": got.is_enough}


def _x(name: str, across: Spec, axis: Spec | None = None) -> Spec:
    return field(name, across, axis)


def _lines(terms: Terms, across: Spec, palette: Palette) -> Spec:
    along = {
        **labelled({place: name for place, (name, _) in enumerate(terms)}),
        "labelOverlap": False,
        "labelPadding": 21,
    }
    upright = {
        **labelled(SHARES),
        "labelOverlap": False,
        "minExtent": 33,
        "labelPadding": 4,
    }
    rows = [{"from": across["domain"][0], "to": across["domain"][1], "y": y} for y in _LINES]
    mark = {"type": "rule", "strokeWidth": 1, "color": palette.stave}
    return layer(rows, mark, x=_x("from", across, along), x2=end("to"), y=field("y", _UP, upright))


def _bars(count: int, across: Spec, palette: Palette) -> list[Spec]:
    """A thin and a thick bar between terms."""
    found = []
    for shift, width in ((0.44, 0.7), (0.5, 1.5)):
        rows = [{"at": place + shift, "low": 0, "high": 100} for place in range(count - 1)]
        mark = {"type": "rule", "strokeWidth": width, "color": palette.thin}
        found.append(layer(rows, mark, x=_x("at", across), y=field("low", _UP), y2=end("high")))
    return found if count > 1 else []


def _our_line(line: float | None, across: Spec, palette: Palette) -> list[Spec]:
    if line is None:
        return []
    ends = {"from": across["domain"][0], "to": across["domain"][1]}
    mark = {"type": "rule", "strokeWidth": 1.4, "strokeDash": [5, 4], "color": palette.change}
    row = {**ends, "y": whole_percent(line)}
    return [layer([row], mark, x=_x("from", across), x2=end("to"), y=field("y", _UP))]


def _rests(rests: list[Row], across: Spec, palette: Palette) -> list[Spec]:
    """A short bar where nobody looked; two dots where somebody did and it is withheld."""
    found = []
    looked = [row for row in rests if not row["is_hidden"]]
    hidden = [row for row in rests if row["is_hidden"]]
    bar = {"type": "rule", "strokeWidth": 3.5, "color": palette.thin, "opacity": 0.75}
    if looked:
        found.append(layer(looked, bar, x=_x("from", across), x2=end("to"), y=field("y", _UP)))
    dot = {"type": "point", "filled": True, "size": 14, "color": palette.thin, "opacity": 1}
    if hidden:
        found += [
            layer(hidden, dot, x=_x(side, across), y=field("y", _UP)) for side in ("from", "to")
        ]
    return found


def _stems(notes: list[Row], across: Spec, palette: Palette) -> list[Spec]:
    found = []
    for is_enough, colour in ((False, palette.thin), (True, palette.data)):
        some = [row for row in notes if row["is_enough"] is is_enough]
        mark = {"type": "rule", "strokeWidth": 1.6, "color": colour, "opacity": 0.8}
        if some:
            found.append(layer(some, mark, x=_x("at", across), y=field("low", _UP), y2=end("high")))
    return found


def _notes(notes: list[Row], across: Spec, palette: Palette) -> list[Spec]:
    """Filled: enough to say something. Hollow: too few looks."""
    found = []
    for is_enough, fill, edge in (
        (True, palette.data, palette.data),
        (False, palette.card, palette.thin),
    ):
        some = [row for row in notes if row["is_enough"] is is_enough]
        point = {"type": "point", "filled": True, "size": 62, "opacity": 1, "strokeWidth": 1.6}
        place = {"x": _x("at", across), "y": field("value", _UP)}
        if some:
            found.append(layer(some, {**point, "fill": fill, "stroke": edge}, **place))
    return found


def _numbers(terms: Terms, across: Spec, palette: Palette, has_sign: bool) -> list[Spec]:
    """Each term's number between its note and its name; a word where there is none."""
    found = []
    for is_hidden, size, down in ((False, 11.5, 7), (True, 9.5, 3)):
        rows = [
            {"at": place, "y": 0, "number": _number(got, has_sign)}
            for place, (_, got) in enumerate(terms)
            if got.is_withheld is is_hidden
        ]
        mark = {"type": "text", "baseline": "top", "dy": down, "fontSize": size, "lineHeight": 9}
        number = {"field": "number", "type": "nominal"}
        place = {"x": _x("at", across), "y": field("y", _UP)}
        if rows:
            found.append(layer(rows, {**mark, "fill": palette.ink}, **place, text=number))
    return found


def _number(got: Reading, has_sign: bool) -> str | list[str]:
    if got.is_withheld:
        return ["with-", "held"]
    if not got.is_known:
        return "–"
    return percent(got.value) if has_sign else percent(got.value).removesuffix(f"{NBSP}%")
