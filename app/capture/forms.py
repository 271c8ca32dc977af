"""What a form asks, taken from the contract of its feed: nothing about a field is said twice."""

from __future__ import annotations

from dataclasses import dataclass

from ingest.contracts import Contract, Field, load_contracts


@dataclass(frozen=True)
class Blank:
    """One thing to fill in: its words, whether it is needed, its codes or its greatest length."""

    name: str
    title: str
    description: str
    is_needed: bool
    codes: tuple[str, ...] = ()
    longest: int | None = None


@dataclass(frozen=True)
class Form:
    """The blanks of a feed by name."""

    feed: str
    blanks: tuple[Blank, ...]

    def blank(self, name: str) -> Blank:
        """The blank of that name; `KeyError` when the feed has none."""
        for one in self.blanks:
            if one.name == name:
                return one
        raise KeyError(name)


def contract_of(feed: str) -> Contract:
    """The contract of a feed; `KeyError` when there is none."""
    return load_contracts()[feed]


def form_of(feed: str) -> Form:
    """The form of a feed, its blanks in the order of the columns."""
    return Form(feed, tuple(_blank(one) for one in contract_of(feed).fields))


def _blank(field: Field) -> Blank:
    return Blank(
        field.name,
        field.title,
        field.description,
        field.is_required,
        field.enum,
        field.max_length,
    )
