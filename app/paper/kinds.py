"""Everything that can be printed for the room and for home, by the word that asks for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from app.access import Scope, Snapshot
from app.paper import cards, family, routine_cards, tally

# (scope, snapshot, school, routine) to a tagged PDF; a school or routine left empty is the usual.
Print = Callable[[Scope, Snapshot, str, str], bytes]

KINDS: Mapping[str, Print] = MappingProxyType(
    {
        "draw-cards": cards.printed,
        "routine-cards": routine_cards.printed,
        "home": family.printed,
        "tally": tally.printed,
    }
)
