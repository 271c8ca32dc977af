"""The first line of a OneRoster file against the standard: what is missing, extra or misplaced.

Source: 1EdTech OneRoster CSV Tables 1.1.1 and CSV Binding 1.2.1, the file format sections: header
names are spelled exactly, columns stand in the given order, extensions named `metadata.*` follow.
"""

from collections import Counter
from dataclasses import dataclass, replace

from ingest.findings import Finding
from ingest.readers.oneroster_files import EXTENSION, StandardFile


@dataclass(frozen=True)
class Header:
    """The names under which the columns of a file are read, in the file's own order.

    A column that the standard knows bears the standard's spelling, any other its own name.
    """

    names: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def is_refused(self) -> bool:
        """Tell whether the file cannot be read by this header."""
        return any(finding.verdict == "refuse" for finding in self.findings)


def check_header(shown: str, found: list[str], file: StandardFile) -> Header:
    """Compare a header with the standard, naming each column that differs.

    What is safe is tolerated with a warning (order, spelling, extra columns, missing columns that
    nothing depends on); without a needed column, or with one column twice, the file is refused.
    """
    base = Finding("", "warn", shown, 1, None, None, "", "")
    if len(found) == 1 and any(mark in found[0] for mark in ";\t|"):
        return Header(tuple(found), (_wrong_delimiter(base, found[0]),))
    by_lower = {name.lower(): name for name in file.columns}
    names = tuple(by_lower.get(name.strip().lower(), name.strip()) for name in found)
    findings = [
        *_spelling(base, found, names),
        *_missing(base, file, names),
        *_twice(base, names),
        *_extra(base, file, names),
        *_order(base, file, names),
    ]
    return Header(names, tuple(findings))


def _wrong_delimiter(base: Finding, line: str) -> Finding:
    """Refuse another separator: the standard has the comma alone."""
    mark = next(mark for mark in ";\t|" if mark in line)
    shown = {"\t": "a tab"}.get(mark, mark)
    return replace(
        base,
        rule="wrong_delimiter",
        verdict="refuse",
        value=shown,
        message=f"The columns are separated by {shown}; OneRoster files are separated by commas.",
        remedy="Ask for the file with commas between the columns.",
    )


def _spelling(base: Finding, found: list[str], names: tuple[str, ...]) -> list[Finding]:
    """Warn of each header that only case or spaces keep from the standard's."""
    return [
        replace(
            base,
            rule="oneroster_header_spelling",
            column=name,
            value=raw,
            message=f'The column is headed "{raw}"; the standard writes exactly {name}.',
            remedy=f"It was read as {name}. Ask for the exact spelling.",
        )
        for raw, name in zip(found, names, strict=True)
        if raw != name
    ]


def _missing(base: Finding, file: StandardFile, names: tuple[str, ...]) -> list[Finding]:
    """Name each missing column; a column that would be thrown away anyway is not missed."""
    findings = []
    for column in file.columns:
        if column in names or column not in file.kept:
            continue
        needed = column in file.needed
        findings.append(
            replace(
                base,
                rule="missing_column",
                verdict="refuse" if needed else "warn",
                column=column,
                message=f"The column {column} is missing from {file.name}.csv.",
                remedy=(
                    f"Ask for {file.name}.csv with the column {column}"
                    f"{_place(file, column)}{'' if needed else '; the rest was read'}."
                ),
            )
        )
    return findings


def _place(file: StandardFile, column: str) -> str:
    """Say after which column a missing one belongs."""
    at = file.columns.index(column)
    return " as the first column" if at == 0 else f" after {file.columns[at - 1]}"


def _twice(base: Finding, names: tuple[str, ...]) -> list[Finding]:
    """Refuse a file with one column twice: which of them counts cannot be known."""
    return [
        replace(
            base,
            rule="duplicate_column",
            verdict="refuse",
            column=name,
            message=f"The column {name or '(without a name)'} is there {count} times.",
            remedy="Ask for the file with each column once.",
        )
        for name, count in Counter(names).items()
        if count > 1
    ]


def _extra(base: Finding, file: StandardFile, names: tuple[str, ...]) -> list[Finding]:
    """Warn of columns that are neither the standard's nor named as extensions."""
    return [
        replace(
            base,
            rule="unknown_column",
            column=name,
            message=f"The column {name or '(without a name)'} is not in the standard.",
            remedy=(
                f"It was left out. Ask for {file.name}.csv without it, or with its name as "
                f"{EXTENSION}{name or 'name'} after the standard columns."
            ),
        )
        for name in dict.fromkeys(names)
        if name not in file.columns and not name.startswith(EXTENSION)
    ]


def _order(base: Finding, file: StandardFile, names: tuple[str, ...]) -> list[Finding]:
    """Warn once when columns are not in the standard's order, naming the first that is not."""
    present = [name for name in names if name in file.columns]
    expected = [name for name in file.columns if name in names]
    last_standard = max((names.index(name) for name in present), default=-1)
    early = [
        name
        for name in names[: last_standard + 1]
        if name.startswith(EXTENSION) and name not in file.columns
    ]
    if early:
        text = f"The extension column {early[0]} stands before a column of the standard."
    elif present != expected and len(present) == len(expected):
        first, due = next((a, b) for a, b in zip(present, expected, strict=True) if a != b)
        text = f"The columns are in another order: {first} stands where {due} belongs."
    else:
        return []
    return [
        replace(
            base,
            rule="oneroster_column_order",
            column=early[0] if early else first,
            message=text,
            remedy=(
                "The columns were read by name. Ask for the standard's order: "
                f"{', '.join(expected)}, then columns named {EXTENSION}*."
            ),
        )
    ]
