"""The contracts -> the data dictionary, one page of Markdown for the person who makes the files."""

import re
from collections.abc import Iterable, Mapping, Sequence

from ingest.contracts.model import Contract, Field, ForeignKey, Rule
from ingest.findings import GENERIC_RULES, GenericRule, fill

_GROUPS = {
    "roster": "Roster",
    "calendar": "Calendar",
    "definitions": "What the school defines",
    "classroom": "What classrooms send",
    "supports": "Supports (restricted)",
}
_TYPES = {
    "string": "text",
    "integer": "whole number",
    "number": "number",
    "date": "date, `YYYY-MM-DD`",
    "time": "time, `HH:MM` or `HH:MM:SS`",
    "datetime": "moment with offset, `YYYY-MM-DDTHH:MM:SS+HH:MM`",
    "boolean": "`true` or `false`",
}
_VERDICTS = {
    "refuse": "the file is refused",
    "quarantine": "the row is set aside",
    "warn": "warning, the row counts",
    "known": "already here, nothing changes",
}
_INTRODUCTION = """# The feeds

This page is made from the contracts in `ingest/contracts/feeds/` by
`python -m ingest.contracts.documents`; change the contract, not the page.

A feed is a table that a school sends. What holds for all of them:

- A file is `.csv` (UTF-8; comma, semicolon or tab), `.xlsx`, or a `.zip` of these. Its feed is told
  by its name (`routine_lessons.csv`) or, failing that, by its first line.
- The first line holds the column names, spelled exactly as here. Order does not matter.
- An empty cell means "not known" or "does not apply". `0`, `N/A` and `-` are values, not gaps.
- Keys are opaque text: capitals count, spaces around are a fault, leading zeros belong to them.
- Several values in one cell are separated by `;`.
- Sending the same file twice changes nothing. Sending a row again with the same key and other
  content makes a new version; the old one is kept. In the feeds that classrooms and supports send,
  a row with `voided` = `true` takes the row with that key back.
- Every row ends up in exactly one of four places: received = accepted + already known + set aside
  + refused. A row that is set aside says why, and comes back in a spreadsheet to be corrected.
  For some rules a person may also release it as it is.
"""


def data_dictionary(contracts: Mapping[str, Contract]) -> str:
    """The whole page. Feeds stand in groups, in the order in which they are loaded."""
    parts = [_INTRODUCTION, _contents(contracts)]
    for group, title in _GROUPS.items():
        parts.append(f"# {title}\n")
        parts += [_feed(one) for one in contracts.values() if one.group == group]
    parts.append(_generic_rules(GENERIC_RULES.values()))
    return "\n".join(parts)


def limits(field: Field) -> str:
    """The codes, range, length and form of a field in words; empty when anything goes."""
    codes = field.item_enum or field.enum
    words = [", ".join(f"`{one}`" for one in codes)] if codes else []
    if field.is_list:
        words.append("several separated by `;`")
    if field.alias:
        same = ", ".join(f"`{short}` = `{code}`" for short, code in field.alias.items())
        words.append(f"also read: {same}")
    if field.minimum is not None or field.maximum is not None:
        words.append(_range(field.minimum, field.maximum))
    if field.max_length is not None and not codes:
        words.append(f"at most {field.max_length} characters")
    if field.pattern:
        words.append(f"form `{field.pattern}`")
    return "; ".join(words)


def type_in_words(field: Field) -> str:
    """What kind of value belongs in the cell."""
    return "key" if field.is_key else _TYPES[field.type]


def _range(minimum: float | str | None, maximum: float | str | None) -> str:
    if minimum is None:
        return f"at most {maximum}"
    return f"{minimum} or more" if maximum is None else f"{minimum} to {maximum}"


def _contents(contracts: Mapping[str, Contract]) -> str:
    rows = [
        (f"[`{one.name}`](#{one.name})", one.title, _GROUPS[one.group], str(len(one.rules)))
        for one in contracts.values()
    ]
    return _table(("Feed", "What it is", "Group", "Rules of its own"), rows)


def _feed(contract: Contract) -> str:
    key = ", ".join(f"`{one}`" for one in contract.primary_key)
    lines = [f"## {contract.name}\n", f"**{contract.title}.** {contract.description}\n"]
    lines.append(f"File: `{contract.name}.csv`. A row is known by {key}.")
    lines += [_reference(one) for one in contract.foreign_keys]
    if contract.event_date:
        name = contract.event_date.name
        lines.append(f"`{name}` must not lie in the future, and the class must be in school then.")
    if not contract.free_text:
        lines.append("This feed holds no free text: a column that is added is refused.")
    lines.append("")
    lines.append(_table(("Column", "Kind", "Needed", "Codes, range", "Example", "What it is"),
                        [_column(one) for one in contract.fields]))  # fmt: skip
    lines.append(_rules(contract.rules))
    return "\n".join(lines)


def _reference(key: ForeignKey) -> str:
    names = " and ".join(f"`{one}`" for one in key.fields)
    condition = " (when that feed is sent at all)" if key.when_loaded else ""
    condition += ", withdrawn or not" if key.part_of else ""
    return f"{names} must be found in [`{key.resource}`](#{key.resource}){condition}."


def _column(field: Field) -> tuple[str, ...]:
    needed = "yes" if field.is_required else "column may be absent" if field.is_optional else "no"
    text = f"{field.title}. {field.description}"
    if field.is_private:
        text += " Kept apart, in the names table."
    return (f"`{field.name}`", type_in_words(field), needed, limits(field),
            f"`{field.example}`", text)  # fmt: skip


def _rules(rules: Sequence[Rule]) -> str:
    if not rules:
        return "No rules of its own beyond those that hold for every feed.\n"
    rows = [
        (f"`{one.name}`", _verdict(one.verdict, one.release), _shown(one.message), one.remedy)
        for one in rules
    ]
    return _table(("Rule", "What happens", "Message", "What to do"), rows)


def _shown(message: str) -> str:
    """A message with its gaps marked: the value of a column, or what was found."""
    return re.sub(r"\{(\w+)\}", r"*\1*", message.replace("{detail}", "…"))


def _verdict(verdict: str, release: str) -> str:
    words = _VERDICTS[verdict]
    if verdict != "quarantine":
        return words
    return f"{words}; {'a person may release it' if release == 'person' else 'correct it'}"


def _generic_rules(rules: Iterable[GenericRule]) -> str:
    words = {"column": "the column", "detail": "", "nearest": "", "limit": "the limit",
             "allowed": "the codes of the column"}  # fmt: skip
    rows = [
        (
            f"`{one.name}`",
            _verdict(one.verdict, one.release),
            _capital(fill(one.message, words)),
            fill(one.remedy, words),
        )
        for one in rules
    ]
    return "# Rules that hold for every feed\n\n" + _table(
        ("Rule", "What happens", "Message", "What to do"), rows
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _table(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [header, ["---"] * len(header), *rows]
    return "\n".join("| " + " | ".join(_cell(one) for one in line) + " |" for line in lines) + "\n"


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")
