"""Keys of a table, in a join and by name."""

from __future__ import annotations

from tests.dbt_project.macro_runner import macros, table


def test_two_keys_join_as_both() -> None:
    rows = table(
        f"select {macros()['keys_of']('one', ['a', 'b'])} from one"
        f" inner join other on {macros()['same_keys']('one', 'other', ['a', 'b'])}",
        one="select * from (values (1, 1), (1, 2), (2, 1)) v(a, b)",
        other="select * from (values (1, 2), (2, 2), (3, 1)) v(a, b)",
    )
    assert rows == [(1, 2)]


def test_one_key_joins_alone() -> None:
    assert macros()["keys_of"]("one", ["a"]) == "one.a"
    assert macros()["same_keys"]("one", "other", ["a"]) == "one.a = other.a"
