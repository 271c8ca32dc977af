"""Checks over the keys of a file: twice the same, already here, one thing under two keys, names."""

from collections.abc import Sequence

import duckdb

from ingest.check_marks import Intake, mark_generic
from ingest.compile_sql import equal, name, names, same, text
from ingest.contracts.model import VOIDED

# Two or more words of letters alone: "Ana Maria Lopes", "O'Neil, Sam"; not "Room 3".
_NAME = r"^\p{L}[\p{L}'’.-]*,? +\p{L}[\p{L}'’. -]*$"
_ROWS_THAT_TELL = 20_000
_OTHER_ORDERS = (
    "['%Y-%d-%m', '%d/%m/%Y', '%m/%d/%Y', '%d.%m.%Y', '%m.%d.%Y', '%d-%m-%Y', '%m-%d-%Y']"
)


# Swapped dates up to the 12th of a month pass for real ones, so the good cells are asked too: none
# may have a day above 12, and the bad ones must be many.
_SWAPPED = f"""
with bad as (
    select count(*) as cell_count, count(try_strptime(cell, {_OTHER_ORDERS})) as swapped_count
    from marks
    where column_name = {{column}} and rule_name = 'not_a_date'
),
good as (
    select count({{cell}}) as cell_count, count(*) filter (day({{cell}}) > 12) as beyond_count
    from incoming
)
select bad.cell_count > 0
    and bad.cell_count = bad.swapped_count
    and good.beyond_count = 0
    and bad.cell_count >= 0.3 * (bad.cell_count + good.cell_count)
    and (bad.cell_count > 1 or good.cell_count = 0)
from bad
cross join good
"""


def check_names_for_keys(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Refuse a file in which most cells of a key column are people's names.

    The first rows tell: a column is filled in one way from top to bottom.
    """
    keys = _keys_that_tell(intake)
    if not keys:
        return
    first = f"select {names(keys)} from incoming limit {_ROWS_THAT_TELL}"
    # The exact test is dear even for one row, and hardly a file has a space in a key.
    spaces = " or ".join(f"contains({name(key)}, ' ')" for key in keys)
    if con.execute(f"select 1 from ({first}) where {spaces} limit 1").fetchone() is None:
        return
    tests = ", ".join(_are_names(key) for key in keys)
    row = con.execute(f"select {tests} from ({first})").fetchone()
    for key, is_bad in zip(keys, row or (), strict=False):
        if is_bad:
            mark_generic(con, "names_for_keys", key, "select null as line_number, null as cell")


def files_of_names(con: duckdb.DuckDBPyConnection, intake: Intake) -> list[int]:
    """The files of a bundle that `check_names_for_keys` would refuse if each were by itself."""
    keys = _keys_that_tell(intake)
    spaces = " or ".join(f"contains({name(key)}, ' ')" for key in keys)
    own = f"from {intake.source} where set_aside is null"
    if not keys or con.execute(f"select 1 {own} and ({spaces}) limit 1").fetchone() is None:
        return []
    tests = " or ".join(_are_names(key) for key in keys)
    found = con.execute(f"select source_line {own} group by source_line having {tests}")
    return [row[0] for row in found.fetchall()]


def _keys_that_tell(intake: Intake) -> list[str]:
    return [one.name for one in intake.contract.key_fields if not one.is_list]


def _are_names(key: str) -> str:
    return (
        f"2 * count(*) filter (contains({name(key)}, ' ') "
        f"and regexp_matches({name(key)}, {text(_NAME)})) > count({name(key)})"
    )


def check_date_order(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Refuse a file of which a whole date column is written with day and month swapped."""
    for field in intake.contract.fields:
        if field.type != "date":
            continue
        query = _SWAPPED.format(column=text(field.name), cell=name(field.name))
        row = con.execute(query).fetchone()
        if row and row[0]:
            # It explains every one of these cells; they need not be told one by one.
            con.execute(
                "delete from marks where column_name = ? and rule_name = 'not_a_date'", [field.name]
            )
            nowhere = "select null as line_number, null as cell"
            mark_generic(con, "date_order_swapped", field.name, nowhere)


def find_known(con: duckdb.DuckDBPyConnection, intake: Intake, has_earlier: bool) -> None:
    """Fill temp table `known`: rows that were here before, and exact copies within the file."""
    contract = intake.contract
    keys = contract.primary_key
    content = [one for one in contract.field_names if one not in keys]
    _find_repeated(con, keys)
    con.execute(
        f"""
        insert into known
        select line_number
        from (
            select one.line_number, row_number() over (
                partition by {names((*keys, *content), "one.")} order by one.line_number
            ) as copy_number
            from incoming as one
            inner join repeated on {equal(keys, "one", "repeated")}
        )
        where copy_number > 1
        """
    )
    if has_earlier:
        con.execute(
            f"insert into known select distinct one.line_number from incoming as one "
            f"inner join earlier on {equal(keys, 'one', 'earlier')} "
            f"where {same(content, 'one', 'earlier')} "
            "and one.line_number not in (select line_number from known)"
        )


def _find_repeated(con: duckdb.DuckDBPyConnection, keys: Sequence[str]) -> None:
    """Temp table `repeated`: keys that stand twice or more in the file.

    Most files come sorted by their key, which is cheap to see and leaves no room for a double;
    after that, numbers group faster than texts, so the keys' hashes are looked at.
    """
    columns = names(keys)
    hashes = (
        f"select hash({columns}) as key_hash from incoming group by key_hash having count(*) > 1"
    )
    if _rises(con, keys):
        hashes = "select null::ubigint as key_hash limit 0"
    con.execute(f"create or replace temp table repeated_hashes as {hashes}")
    some = con.execute("select 1 from repeated_hashes limit 1").fetchone()
    con.execute(
        f"create or replace temp table repeated as select {columns} from incoming "
        + (
            f"where hash({columns}) in (select key_hash from repeated_hashes) "
            f"group by {columns} having count(*) > 1"
            if some
            else "limit 0"
        )
    )


def _rises(con: duckdb.DuckDBPyConnection, keys: Sequence[str]) -> bool:
    """Whether a key of one column is greater in every row than in the row before."""
    if len(keys) != 1:
        return False
    key = name(keys[0])
    found = con.execute(
        f"select 1 from (select {key} <= lag({key}) over () as is_fall from incoming) "
        "where is_fall limit 1"
    ).fetchone()
    return found is None


def check_duplicate_keys(con: duckdb.DuckDBPyConnection, intake: Intake) -> None:
    """Rows of one file under one key that differ: none can be told from the right one.

    A row that takes an earlier one back is no double of it.
    """
    contract = intake.contract
    keys = contract.primary_key
    live = f"where one.{VOIDED} is not true" if VOIDED in contract.field_names else ""
    first = name(keys[0])
    mark_generic(
        con,
        "duplicate_key",
        keys[0],
        f"""
        select line_number, cell
        from (
            select one.line_number, cast(one.{first} as varchar) as cell,
                count(*) over (partition by {names(keys, "one.")}) as copies
            from incoming as one
            inner join repeated on {equal(keys, "one", "repeated")}
            anti join known on one.line_number = known.line_number
            {live}
        )
        where copies > 1
        """,
    )
    for field in contract.fields:
        if field.is_unique and (field.name,) != keys:
            own = name(field.name)
            mark_generic(
                con,
                "duplicate_key",
                field.name,
                f"select line_number, cast({own} as varchar) as cell from incoming "
                f"where {own} is not null qualify count(*) over (partition by {own}) > 1",
            )


def check_key_reused(con: duckdb.DuckDBPyConnection, intake: Intake, has_earlier: bool) -> None:
    """The same content under another key: the lowest key counts as the first of them."""
    contract = intake.contract
    keys = contract.primary_key
    if not contract.content_identifies or len(keys) != 1:
        return
    con.execute(
        "create or replace temp table twins as "
        "select row_hash from incoming group by row_hash having count(*) > 1"
    )
    key = name(keys[0])
    content = [one for one in contract.field_names if one not in keys]
    found = _TWINS_INSIDE.format(key=key)
    if has_earlier:
        same_content = same(content, "one", "earlier")
        found += " union all " + _TWINS_EARLIER.format(key=key, same_content=same_content)
    lines = f"""
        select line_number, any_value(cell) as cell,
            ' The other key is ' || min(other_key) || '.' as detail
        from ({found})
        where other_key <> cell
        group by line_number
        """
    mark_generic(con, "key_reused", keys[0], lines, detail=True)


_TWINS_INSIDE = """
select one.line_number, cast(one.{key} as varchar) as cell,
    min(one.{key}) over (partition by one.row_hash) as other_key
from incoming as one
inner join twins on one.row_hash = twins.row_hash
anti join known on one.line_number = known.line_number
"""
_TWINS_EARLIER = """
select one.line_number, cast(one.{key} as varchar) as cell, earlier.{key} as other_key
from incoming as one
inner join earlier on one.row_hash = earlier.row_hash and one.{key} <> earlier.{key}
anti join known on one.line_number = known.line_number
where {same_content}
"""
