{# Gini coefficient of a value within each group, as a query: 0 all alike, near 1 one has all.

   relation   name of a CTE or table; keys: list of its columns; value: its column, 0 or more
   Rows with a null value are left out. Columns out: the keys, `gini` (null when all are zero or
   there is no row), `gini_count`. Formula: sum (2 i - n - 1) x_i / (n sum x), x in order.
#}
{% macro gini(relation, keys, value) -%}
    select
        {{ keys | join(', ') }},
        count(*) as gini_count,
        sum((2.0 * gini_place - gini_size - 1.0) * gini_value)
        / nullif(max(gini_size) * sum(gini_value), 0.0) as gini
    from (
        select
            {{ keys | join(', ') }},
            cast({{ value }} as double) as gini_value,
            row_number() over (
                partition by {{ keys | join(', ') }} order by {{ value }}
            ) as gini_place,
            count(*) over (partition by {{ keys | join(', ') }}) as gini_size
        from {{ relation }}
        where {{ value }} is not null
    ) as gini_ranked
    group by {{ keys | join(', ') }}
{%- endmacro %}
