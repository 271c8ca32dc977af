"""The marks of a file: temp table `marks`, one row for each thing found, in SQL alone."""

from collections.abc import Sequence
from dataclasses import dataclass

import duckdb

from ingest.compile import Code, Compiled
from ingest.compile_sql import name, text
from ingest.contracts import Contract, Rule
from ingest.findings import CORRECTION, GENERIC_RULES, PERSON, QUARANTINE, Finding, fill
from ingest.readers.table import Table

_MARKS_DDL = """
create or replace temp table marks (
    line_number bigint,
    rule_name varchar not null,
    column_name varchar,
    verdict varchar not null,
    message varchar not null,
    remedy varchar not null,
    can_release boolean not null,
    cell varchar,
);
create or replace temp table known (line_number bigint);
create or replace temp table aside (
    line_number bigint, row_json varchar, rule_names varchar[], can_release boolean
);
create or replace temp table reason_codes (
    number integer,
    rule_name varchar,
    column_name varchar,
    verdict varchar,
    message varchar,
    remedy varchar,
    can_release boolean,
    is_private boolean,
    allowed varchar[],
);
"""


_SINGLE_MARKS = """
insert into marks
with reasons as (
    select line_number, row_json, cast(unnest(string_split(reasons, ';')) as integer) as number
    from single_aside
),
cells as (
    select
        reasons.line_number,
        reason_codes.*,
        case when column_name is not null then row_json ->> ('$.' || column_name) end as cell
    from reasons
    inner join reason_codes on reasons.number = reason_codes.number
),
nearest as (
    select number, cell, arg_max(code, jaro_winkler_similarity(lower(cell), lower(code))) as code
    from (
        select distinct number, cell, unnest(allowed) as code
        from cells
        where len(allowed) > 0 and cell is not null
    )
    group by number, cell
)
select
    cells.line_number,
    cells.rule_name,
    cells.column_name,
    cells.verdict,
    replace(
        cells.message,
        '{nearest}',
        case
            when cells.rule_name = 'leading_zero_lost'
                and not contains(cells.cell, ';') then ' It may be 0' || cells.cell || '.'
            when nearest.code is not null then ' The nearest is ' || nearest.code || '.'
            else ''
        end
    ),
    cells.remedy,
    cells.can_release,
    case when not cells.is_private then cells.cell end
from cells
left join nearest on cells.number = nearest.number
    and cells.cell is not distinct from nearest.cell
"""


@dataclass(frozen=True)
class Intake:
    """A file whose rows stand in `source`, those of it where `condition` holds.

    `first_row` is the lowest row number there: with the order of the file kept, a row's number
    minus it says the line, without any line ever being counted.
    """

    contract: Contract
    table: Table
    source: str
    condition: str
    first_row: int
    received: int

    def line(self, table: str) -> str:
        """SQL of a row's own number; `table` is what the rows go by.

        In a table that was made from something else it is not the clerk's line: several rows may
        come from one of those (see `show_lines`).
        """
        return f"{table}.rowid - {self.first_row} + {self.table.first_line}"


def clear(con: duckdb.DuckDBPyConnection) -> None:
    """Empty temp tables for the next file."""
    con.execute(_MARKS_DDL)


def watch(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Empty marks, and the view `incoming` of the rows that passed every single-row check."""
    clear(con)
    columns = ", ".join(name(one) for one in intake.contract.field_names)
    line = f"{intake.line('kept')} as line_number"
    private_hash = "private_hash" if intake.contract.private_fields else "null as private_hash"
    con.execute(
        f"create or replace temp view incoming as select {columns}, {line}, "
        f"row_hash, {private_hash} from {intake.source} as kept "
        f"where {intake.condition} and set_aside is null"
    )


def show_lines(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Give marks and set-aside rows the clerk's lines for the rows' own numbers: the last step
    before they are written down, for several rows may share a line. Then what the reader met."""
    if intake.table.line_column:
        con.execute(
            f"create or replace temp table clerk_lines as select {intake.line('kept')} "
            f"as line_number, source_line from {intake.source} as kept "
            f"where {intake.condition} and source_line is not null"
        )
        for one in ("marks", "aside"):
            con.execute(
                f"update {one} as told set line_number = clerk_lines.source_line from clerk_lines "
                "where told.line_number = clerk_lines.line_number"
            )
    add_findings(con, intake.table.findings)


def judge(con: duckdb.DuckDBPyConnection, intake: Intake, compiled: Compiled) -> None:
    """Table `single_aside`: the rows that were not plainly good, with the numbers of what is wrong;
    a row without numbers is good after all."""
    line = f"{intake.line('kept')} as line_number"
    # First gathered, then looked at: a long expression over a few rows here and there is slow.
    con.execute(
        f"create or replace temp table aside_as_text as select {line}, "
        "left(set_aside, 1) as shape, substr(set_aside, 2) as row_json "
        f"from {intake.source} as kept where {intake.condition} and set_aside is not null"
    )
    reasons = compiled.reasons.replace("{rows}", "aside_as_text")
    if con.execute("select 1 from aside_as_text limit 1").fetchone() is None:
        # Only to prepare the exact tests takes longer than to land a small file.
        reasons = "select line_number, row_json, '' as reasons from aside_as_text"
    con.execute(f"create or replace temp table single_aside as {reasons}")


def start(con: duckdb.DuckDBPyConnection, intake: Intake, compiled: Compiled) -> None:
    """What `watch` does, and the words for the numbers of `single_aside`."""
    watch(con, intake)
    _explain_codes(con, intake.contract, compiled.codes)


def _explain_codes(
    con: duckdb.DuckDBPyConnection, contract: Contract, codes: Sequence[Code]
) -> None:
    """Fill `reason_codes` in one statement: one for each code would cost more than the file."""
    private = {one.name for one in contract.private_fields}
    parts = {
        "number": [one.number for one in codes],
        "rule": [one.rule for one in codes],
        "column": [one.column for one in codes],
        "verdict": [one.verdict for one in codes],
        "message": [one.message for one in codes],
        "remedy": [one.remedy for one in codes],
        "release": [one.release == PERSON for one in codes],
        "private": [one.column in private for one in codes],
        "allowed": [list(one.allowed) for one in codes],
    }
    if codes:
        unnested = ", ".join(f"unnest(${one})" for one in parts)
        con.execute(f"insert into reason_codes select {unnested}", parts)


def add_findings(con: duckdb.DuckDBPyConnection, findings: Sequence[Finding]) -> None:
    """Marks for what a reader met."""
    rows = [
        [one.line, one.rule, one.column, one.verdict, one.message, one.remedy, False, one.value]
        for one in findings
    ]
    if rows:
        con.executemany("insert into marks values (?, ?, ?, ?, ?, ?, ?, ?)", rows)


def mark_single_rows(con: duckdb.DuckDBPyConnection) -> None:
    """One mark for each reason of each row that the reading statement set aside."""
    con.execute(_SINGLE_MARKS)
    _fill_places(con)


def _fill_places(con: duckdb.DuckDBPyConnection) -> None:
    """Messages of a feed's own single-row rules may name columns of the row."""
    con.execute(
        """
        create or replace temp table places as
        select distinct
            marks.rowid as mark_row,
            marks.line_number,
            unnest(regexp_extract_all(marks.message, '\\{([a-z_]+)\\}', 1)) as place
        from marks
        where contains(marks.message, '{')
        """
    )
    for (place,) in con.execute("select distinct place from places order by place").fetchall():
        con.execute(
            f"""
            update marks
            set message = replace(
                message, {text("{" + place + "}")},
                coalesce(single_aside.row_json ->> {text("$." + place)}, '')
            )
            from places inner join single_aside on places.line_number = single_aside.line_number
            where marks.rowid = places.mark_row and places.place = {text(place)}
            """
        )


def mark_generic(
    con: duckdb.DuckDBPyConnection,
    rule_name: str,
    column: str | None,
    lines: str,
    *,
    detail: bool = False,
) -> None:
    """Marks of one generic rule. `lines` is a query of `line_number`, `cell` and, with `detail`,
    of `detail`: a sentence for the place {detail} or {nearest} of the message."""
    rule = GENERIC_RULES[rule_name]
    values = {"column": column or "", "limit": "", "allowed": ""}
    values |= {} if detail else {"detail": "", "nearest": ""}
    message, remedy = fill(rule.message, values), fill(rule.remedy, values)
    shown = text(message)
    if detail:
        shown = f"replace(replace({shown}, '{{detail}}', detail), '{{nearest}}', detail)"
    can_release = "true" if rule.release == PERSON and rule.verdict == QUARANTINE else "false"
    con.execute(
        f"insert into marks select line_number, {text(rule_name)}, "
        f"{text(column) if column else 'null'}, {text(rule.verdict)}, {shown}, {text(remedy)}, "
        f"{can_release}, cell from ({lines})"
    )


def mark_rule(
    con: duckdb.DuckDBPyConnection, contract: Contract, rule: Rule, lines: str, *, has_detail: bool
) -> None:
    """Marks of a feed's own rule; `lines` yields `line_number` and, if so said, `detail`."""
    message = text(rule.message)
    detail = "coalesce(cast(found.detail as varchar), '')" if has_detail else "''"
    message = f"replace({message}, '{{detail}}', {detail})"
    for one in contract.public_fields:
        if "{" + one.name + "}" in rule.message:
            place = text("{" + one.name + "}")
            message = (
                f"replace({message}, {place}, coalesce(cast(row_.{name(one.name)} as varchar), ''))"
            )
    column = rule.columns[0] if rule.columns else None
    is_private = column in {one.name for one in contract.private_fields}
    cell = f"cast(row_.{name(column)} as varchar)" if column and not is_private else "null"
    release = "false" if rule.release == CORRECTION else "true"
    con.execute(
        f"insert into marks select found.line_number, {text(rule.name)}, "
        f"{text(column) if column else 'null'}, {text(rule.verdict)}, {message}, "
        f"{text(rule.remedy)}, {release}, {cell} from ({lines}) as found "
        "left join incoming as row_ on found.line_number = row_.line_number"
    )


def has_refusal(con: duckdb.DuckDBPyConnection) -> bool:
    """Whether anything found refuses the whole file."""
    row = con.execute("select count(*) from marks where verdict = 'refuse'").fetchone()
    return bool(row and row[0])
