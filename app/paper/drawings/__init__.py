"""Our line drawings for steps and kinds of routine, chosen by plain words.

Children are circles without faces: a picture says what to do and judges nobody. A step whose words
fit none of them has none, and its number stands in the place.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

# What stands in for each drawing; the key is its file.
ALT = {
    "bell": "a bell",
    "book": "an open book",
    "box": "things going into a box",
    "breath": "a breath of air",
    "broom": "a broom",
    "card": "a card",
    "chair": "a chair",
    "circle": "children in a circle",
    "clock": "a clock",
    "door": "a door",
    "ear": "an ear",
    "feet": "footprints",
    "gap": "two children with a space between them",
    "hand": "a raised hand",
    "hook": "a coat on a hook",
    "pair": "two children side by side",
    "pencil": "a pencil",
    "speech": "a speech bubble",
    "thought": "a thought bubble",
    "voice": "bars from soft to loud",
}
# The first that fits is taken, so what is most particular stands first.
_WORDS = (
    ("bell", r"signal|sign|bell|chime"),
    ("clock", r"wait|pause|minutes?|clock|timer"),
    ("thought", r"think|thinking|thought|goal"),
    ("card", r"cards?|draw the name|draw a name|draw names"),
    ("voice", r"voices?|loud|louder|softer|whisper|level"),
    ("ear", r"listen|listens|listening|hear|ears?|quiet|quietly"),
    ("breath", r"breathe?|calm"),
    ("chair", r"chairs?|seats?|sit|sitting"),
    ("gap", r"space|gap|apart"),
    ("door", r"doors?"),
    ("hook", r"hang|hook|coats?|unpack"),
    ("broom", r"wipe|sweep|clean"),
    ("feet", r"walk|walking|feet|line up|move"),
    ("pair", r"partners?|friend|pairs?|adult"),
    ("circle", r"circle|carpet|group|everyone"),
    ("box", r"put|tidy|away|things"),
    ("speech", r"say|ask|answers?|answering|question|speak|tell|greet|talk"),
    ("pencil", r"write|draw|pencil"),
    ("book", r"read|books?|plan|task|work"),
    ("hand", r"hands?|stop|finish"),
)
_KINDS = {"posture": "ear", "turns": "card", "voice": "voice", "movement": "feet"}
_FITTING = tuple((name, re.compile(rf"\b(?:{words})\b", re.I)) for name, words in _WORDS)


@dataclass(frozen=True)
class Drawing:
    """One drawing: SVG and the words that stand in for it."""

    svg: str
    alt: str


@cache
def drawing(name: str) -> Drawing:
    """A drawing by its name; `KeyError` when there is none."""
    words = ALT[name]
    svg = (files("app.paper.drawings") / f"{name}.svg").read_text(encoding="utf-8")
    return Drawing(svg, f"Picture: {words}")


def of_step(text: str) -> Drawing | None:
    """The drawing for the words of a step; None when no word of it is one of ours."""
    name = next((name for name, words in _FITTING if words.search(text)), None)
    return None if name is None else drawing(name)


def of_kind(kind: str) -> Drawing:
    """The drawing for a kind of routine."""
    return drawing(_KINDS.get(kind, "circle"))
