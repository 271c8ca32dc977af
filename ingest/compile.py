"""A contract -> the one statement that reads a file, types every row and tells good from bad."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from ingest.compile_cells import TRUE_WORDS, Cell, compile_cell, raw
from ingest.compile_faults import Fault
from ingest.compile_sql import name, text, texts
from ingest.contracts import Contract, Field, Rule
from ingest.contracts.model import VOIDED
from ingest.findings import CORRECTION, GENERIC_RULES, fill
from ingest.readers.table import Table

_EXTRA, _EXTRA_COUNT = "extra", 8
# Stands for "no cell at all" in a careful reading; no text file holds it, NUL bytes are refused.
_ABSENT = "\x01\x02absent\x02\x01"


@dataclass(frozen=True)
class Code:
    """What a number in a row's list of reasons means."""

    number: int
    rule: str
    column: str | None
    verdict: str
    release: str
    message: str
    remedy: str
    allowed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Compiled:
    """Two statements, because exact tests cost far more than cheap ones, even on few rows.

    `query` yields the rows of a file for the table they land in; one that is not plainly good comes
    with its text in `set_aside`. `reasons` then says what is wrong with those, over the table put
    in its place `{rows}` (`line_number`, `shape`, `row_json`); `codes` explain its numbers. A row
    without reasons is good after all.
    """

    query: str
    reasons: str
    codes: tuple[Code, ...]

    @property
    def told(self) -> str:
        """One query with the numbers of what is wrong with each row of a file, in its order; empty
        for a good one. For looking at a contract alone: landing needs no such list."""
        reasons = self.reasons.replace("{rows}", "not_plain")
        return f"""
with numbered as (select row_number() over () as line_number, set_aside from ({self.query})),
not_plain as (
    select line_number, left(set_aside, 1) as shape, substr(set_aside, 2) as row_json
    from numbered
    where set_aside is not null
)
select coalesce(found.reasons, '') as reasons
from numbered
left join ({reasons}) as found on numbered.line_number = found.line_number
order by numbered.line_number"""


def with_received_on(sql: str, received_on: str) -> str:
    """A rule's SQL with the day of receipt put in."""
    return sql.replace("$received_on", received_on)


def compile_table(
    contract: Contract, table: Table, received_on: str, *, is_careful: bool = False
) -> Compiled:
    """The statement for one file; `received_on` is a SQL date.

    A careful reading also survives rows with too few or too many cells (and is slower).
    """
    cells = [compile_cell(one, received_on) for one in contract.fields]
    rules = [one for one in contract.rules if one.kind == "row" and one.verdict != "warn"]
    conditions = [with_received_on(rule.sql, received_on) for rule in rules]
    codes, told = _faults(cells, rules, conditions)
    plain = [cell.plain for cell in cells]
    plain += [f"not coalesce(({one}), false)" for one in conditions]
    plain += ["not is_short and not is_long"] if is_careful else []
    query = f"""
with rows_as_text as (
    {_source(contract, table, is_careful)}
),
typed as (
    {_typed(cells)}
),
judged as (
    select *, coalesce({" and ".join(plain)}, false) as is_plain
    from typed
)
select
    {", ".join(name(one) for one in contract.field_names)},
    {_hashes(contract)},
    source_line,
    case when not is_plain then {_shape(is_careful)} || {_raw_row(table, contract)} end as set_aside
from judged"""
    return Compiled(query, _reasons(contract, cells, told), tuple(codes))


def _typed(cells: Sequence[Cell]) -> str:
    typed = ", ".join(f"{cell.typed} as {name(cell.field.name)}" for cell in cells)
    return f"select *, {typed} from rows_as_text"


def _shape(is_careful: bool) -> str:
    """One letter before the row's text: was it short, long or neither."""
    if not is_careful:
        return "'-'"
    return "case when is_short then 's' when is_long then 'l' else '-' end"


def _reasons(contract: Contract, cells: Sequence[Cell], told: Sequence[str]) -> str:
    return f"""
with rows_as_text as (
    select line_number, row_json, shape = 's' as is_short, shape = 'l' as is_long,
        {_from_json(contract)}
    from (select *, {_as_cells(contract)} as cells from {{rows}})
),
typed as (
    {_typed(cells)}
)
select line_number, row_json, concat_ws(';', {", ".join(told)}) as reasons
from typed"""


def _as_cells(contract: Contract) -> str:
    """A row's text taken apart once, not once for each cell."""
    shape = json.dumps({one: "VARCHAR" for one in contract.field_names})
    return f"json_transform(row_json, {text(shape)})"


def _from_json(contract: Contract) -> str:
    return ", ".join(f"cells.{name(one)} as {raw(one)}" for one in contract.field_names)


def compile_released(contract: Contract, rows: str) -> str:
    """The rows of a query of `line_number` and `row_json`, typed as the reading statement would."""
    cells = [compile_cell(one, "null::date") for one in contract.fields]
    return f"""
with rows_as_text as (
    select {_from_json(contract)}, line_number as source_line
    from (select *, {_as_cells(contract)} as cells from ({rows}))
)
select
    {", ".join(f"{cell.typed} as {name(cell.field.name)}" for cell in cells)},
    {_hashes(contract)},
    source_line,
    null::varchar as set_aside
from rows_as_text"""


def compile_held(contract: Contract, rows: str) -> str:
    """Rows of a query of `line_number` and `row_json`, typed, with their number in `source_line`.

    `is_whole` says that every cell that holds something could be typed: only such rows can be
    told apart by what their cells mean.
    """
    cells = [compile_cell(one, "null::date") for one in contract.fields]
    whole = " and ".join(
        f"(coalesce(trim({raw(cell.field.name)}), '') = '') = ({name(cell.field.name)} is null)"
        for cell in cells
    )
    return f"""
with rows_as_text as (
    select {_from_json(contract)}, line_number as source_line
    from (select *, {_as_cells(contract)} as cells from ({rows}))
),
typed as (
    {_typed(cells)}
)
select {", ".join(name(one) for one in contract.field_names)}, source_line, {whole} as is_whole
from typed"""


def _source(contract: Contract, table: Table, is_careful: bool) -> str:
    """The file as text columns `raw_<field>`; cells that are not in the file are null."""
    kept = set(contract.field_names) | ({table.line_column} if table.line_column else set())
    read = [f"c{number}" for number in range(len(table.header))]
    chosen = [
        f"{_cell(column, is_careful)} as {raw(header)}"
        for column, header in zip(read, table.header, strict=True)
        if header in kept and header in contract.field_names
    ]
    absent = [one for one in contract.field_names if one not in table.header]
    chosen += [f"null::varchar as {raw(one)}" for one in absent]
    line = "null::bigint"
    if table.line_column:
        line = f"try_cast(c{table.header.index(table.line_column)} as bigint)"
    if table.parts:
        line = f"cast(list_position([{_paths(table)}], filename) as bigint)"
    chosen.append(f"{line} as source_line")
    if is_careful:
        chosen += [f"{read[-1]} is null as is_short", f"{_EXTRA}0 is not null as is_long"]
        read += [f"{_EXTRA}{number}" for number in range(_EXTRA_COUNT)]
    return f"select {', '.join(chosen)} from {reader(table, read, is_careful)}"


def _cell(column: str, is_careful: bool) -> str:
    return f"nullif({column}, '')" if is_careful else column


def reader(table: Table, columns: Sequence[str], is_careful: bool) -> str:
    """DuckDB's reader for a table's file, every column as text, nothing guessed."""
    types = ", ".join(f"{text(one)}: 'varchar'" for one in columns)
    careful = f"null_padding = true, nullstr = {text(_ABSENT)}" if is_careful else "nullstr = ''"
    source = f"[{_paths(table)}], filename = true" if table.parts else text(str(table.path))
    return (
        f"read_csv({source}, delim = {text(table.delimiter)}, quote = '\"', "
        f"escape = '\"', header = false, skip = 1, auto_detect = false, max_line_size = 16777216, "
        f"columns = {{{types}}}, {careful})"
    )


def _paths(table: Table) -> str:
    return ", ".join(text(str(one)) for one in table.parts)


def _faults(
    cells: Sequence[Cell], rules: Sequence[Rule], conditions: Sequence[str]
) -> tuple[list[Code], list[str]]:
    """What each number means, and expressions that yield the numbers of what is wrong, or null."""
    codes: list[Code] = []
    told: list[str] = []
    for rule, condition in (("short_row", "is_short"), ("long_row", "is_long")):
        told.append(_number_if(condition, len(codes)))
        codes.append(_generic_code(len(codes), Fault(rule, condition), None))
    for cell in cells:
        numbers = []
        for fault in cell.faults:
            numbers.append(_number_if(fault.condition, len(codes)))
            codes.append(_generic_code(len(codes), fault, cell.field.name))
        # The exact tests of a plainly good cell are spared; a row that lacks cells is not told
        # about each of them as well.
        told.append(
            f"case when is_short or coalesce({cell.plain}, false) then null "
            f"else nullif(concat_ws(';', {', '.join(numbers)}), '') end"
        )
    for own, condition in zip(rules, conditions, strict=True):
        told.append(_number_if(condition, len(codes)))
        column = own.columns[0] if own.columns else None
        said = (own.verdict, own.release, own.message, own.remedy)
        codes.append(Code(len(codes), own.name, column, *said))
    return codes, told


def _number_if(condition: str, number: int) -> str:
    return f"case when {condition} then '{number}' end"


def _generic_code(number: int, fault: Fault, column: str | None) -> Code:
    rule = GENERIC_RULES[fault.rule]
    values = {"column": column or "", "limit": fault.limit, "allowed": ", ".join(fault.allowed)}
    message, remedy = fill(rule.message, values), fill(rule.remedy, values)
    release = rule.release if rule.verdict == "quarantine" else CORRECTION
    return Code(
        number, rule.name, column, rule.verdict, release, message, remedy, tuple(fault.allowed)
    )


def _hashes(contract: Contract) -> str:
    private = _hash(contract.private_fields, contract) if contract.private_fields else "null"
    return f"{_hash(contract.public_fields, contract)} as row_hash, {private} as private_hash"


def _hash(fields: Sequence[Field], contract: Contract) -> str:
    """The content of a row, its key left out, as one number that stays the same for ever.

    `md5_number` because `hash()` may change between versions of DuckDB; `concat` because
    `concat_ws` would run empty cells together.
    """
    parts = []
    for one in fields:
        if one.name == VOIDED:
            parts.append(f"case when {raw(one.name)} in ({texts(TRUE_WORDS)}) then 'true' end")
        elif one.name not in contract.primary_key:
            parts.append(raw(one.name))
    return f"md5_number(concat({', chr(31), '.join(parts) or text('')}))"


def _raw_row(table: Table, contract: Contract) -> str:
    """The row as it came, as a JSON object: what a person corrects, and what is kept."""
    sent = [one for one in contract.field_names if one in table.header]
    cells = ", ".join(f"{text(one)}: {raw(one)}" for one in sent)
    return f"cast(to_json({{{cells}}}) as varchar)"
