{# The points of each series in their order, as a query: the first step of the charts and trends.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the points in order, unique within the keys
   value      a column or expression; others: list of further columns to take along
   Columns out: the keys, the order column, the others, `series_place` 1, 2, 3 ..., `series_value`.
   Points without a value or a place are left out.
#}
{% macro series_in_order(relation, keys, order_by, value, others=[]) -%}
    select
        {{ (keys + [order_by] + others) | join(', ') }},
        row_number() over (
            partition by {{ keys | join(', ') }} order by {{ order_by }}
        ) as series_place,
        cast({{ value }} as double) as series_value
    from {{ relation }}
    where {{ value }} is not null and {{ order_by }} is not null
{%- endmacro %}
