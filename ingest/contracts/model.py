"""What a feed promises: its fields, keys, references and named rules, as frozen values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

FIELD_TYPES: Mapping[str, str] = MappingProxyType(
    {
        "string": "varchar",
        "integer": "bigint",
        "number": "double",
        "date": "date",
        "time": "time",
        "datetime": "timestamptz",
        "boolean": "boolean",
    }
)
VOIDED = "voided"


@dataclass(frozen=True)
class Field:
    """One column of a feed (Table Schema field with our four extras)."""

    name: str
    type: str = "string"
    title: str = ""
    description: str = ""
    example: str = ""
    is_required: bool = False
    is_unique: bool = False
    minimum: float | str | None = None
    maximum: float | str | None = None
    min_length: int | None = None
    max_length: int | None = None
    pattern: str | None = None
    enum: tuple[str, ...] = ()
    item_enum: tuple[str, ...] = ()
    alias: Mapping[str, str] = field(default_factory=dict)
    is_list: bool = False
    is_key: bool = False
    is_private: bool = False
    is_optional: bool = False
    is_event_date: bool = False

    @property
    def sql_type(self) -> str:
        """The DuckDB type the field lands as; lists stay joined text."""
        return FIELD_TYPES[self.type]


@dataclass(frozen=True)
class ForeignKey:
    """These fields must be found in those of another feed (or of this one).

    `when_loaded`: only asked when that feed has any row; one that a school may leave out.
    `part_of`: a row is a part of what it names, and nothing without it; one that was withdrawn
    still counts as sent, and its parts go with it.
    """

    fields: tuple[str, ...]
    resource: str
    reference_fields: tuple[str, ...]
    when_loaded: bool = False
    part_of: bool = False


@dataclass(frozen=True)
class Rule:
    """One named rule of a feed; `kind` row, rows or file says what its SQL returns."""

    name: str
    kind: str
    verdict: str
    release: str
    columns: tuple[str, ...]
    message: str
    remedy: str
    sql: str


@dataclass(frozen=True)
class Contract:
    """All that is known about one feed.

    `content_identifies`: two rows alike in all but their key are taken for one thing sent twice.
    """

    name: str
    title: str
    description: str
    fields: tuple[Field, ...]
    primary_key: tuple[str, ...]
    foreign_keys: tuple[ForeignKey, ...] = ()
    missing_values: tuple[str, ...] = ("",)
    version: str = "1"
    load_order: int = 0
    group: str = ""
    can_void: bool = False
    free_text: bool = True
    content_identifies: bool = False
    rules: tuple[Rule, ...] = ()

    def field(self, name: str) -> Field:
        """The field of that name; `KeyError` when there is none."""
        for one in self.fields:
            if one.name == name:
                return one
        raise KeyError(name)

    @property
    def field_names(self) -> tuple[str, ...]:
        """Names in public order."""
        return tuple(one.name for one in self.fields)

    @property
    def key_fields(self) -> tuple[Field, ...]:
        """Fields that hold opaque keys."""
        return tuple(one for one in self.fields if one.is_key)

    @property
    def private_fields(self) -> tuple[Field, ...]:
        """Fields that go to the names table and to no other."""
        return tuple(one for one in self.fields if one.is_private)

    @property
    def public_fields(self) -> tuple[Field, ...]:
        """Fields that land in the feed's own table."""
        return tuple(one for one in self.fields if not one.is_private)

    @property
    def event_date(self) -> Field | None:
        """The field that says on which day it happened, if the feed has one."""
        return next((one for one in self.fields if one.is_event_date), None)
