"""A large, seeded file of draws, made by DuckDB itself: one row in a hundred is faulty."""

from pathlib import Path

import duckdb

_FAULTY_IN = 100
_ROWS = """
with numbered as (
    select i, hash(i * 8 + 1) as a, hash(i * 8 + 2) as b, hash(i * 8 + 3) as c,
        hash(i * 8 + 4) as d, hash(i * 8 + 5) as e,
        case when hash(i * 8 + 6) % {faulty_in} = 0 then hash(i * 8 + 7) % 8 else 99 end as fault
    from range({rows}) as numbers (i)
)
select
    'drw-' || lpad(i::varchar, 9, '0') as draw_id,
    'class-' || (i // 60 % 4000) || case when fault = 0 then ' ' else '' end as class_id,
    case when fault = 1 then '31/05/2026'
        else (date '2025-09-01' + (i // 240000 % 190)::integer)::varchar end as drawn_on,
    case when fault = 2 then '25:10'
        else strftime(timestamp '2025-09-01 08:30:00' + to_seconds((a % 21600)::bigint), '%H:%M:%S')
        end as drawn_at_local,
    i % 60 + 1 as sequence_number,
    case when fault = 3 then '2.5' else (i // 1200 % 40 + 1)::varchar end as cycle_number,
    case when fault = 4 then 'cylce'
        else (['cycle', 'with_replacement', 'queue', 'volunteer'])[(b % 4 + 1)::integer]
        end as method,
    'pu-' || lpad((c % 100000)::varchar, 6, '0') as pupil_id,
    case when fault = 5 then ''
        else (['answered', 'helped', 'passed', 'absent'])[(d % 4 + 1)::integer]
        end as outcome,
    case when fault = 6 then '3500' else (e % 100 / 10.0)::varchar end as wait_seconds,
    case when fault = 7 then '40%' else (18 + e % 8)::varchar end as eligible_count,
    'whole_class' as context,
    strftime(timestamp '2025-09-01 08:30:00' + to_seconds(i % 15000000), '%Y-%m-%dT%H:%M:%SZ')
        as entered_at
from numbered
order by i
"""


def write(path: Path, rows: int) -> None:
    """Write the file unless it is there already; the number of rows is part of its name."""
    if path.exists():
        return
    part = path.with_suffix(".part")
    with duckdb.connect() as con:
        query = _ROWS.format(rows=rows, faulty_in=_FAULTY_IN)
        con.execute(f"copy ({query}) to '{part}' (header, delimiter ',')")
    part.replace(path)
