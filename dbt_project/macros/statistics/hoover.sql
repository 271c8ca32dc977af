{# Hoover index of a value within each group, as a query: the share of all turns that would have to
   change hands for everyone to have as many. 0 all alike, near 1 one has all.

   relation   name of a CTE or table; keys: list of its columns; value: its column, 0 or more
   Rows with a null value are left out. Columns out: the keys, `hoover_count`, `hoover` (null when
   all are zero). Formula: sum |x - mean| / (2 sum x), half the relative mean deviation.
#}
{% macro hoover(relation, keys, value) -%}
    select
        {{ keys | join(', ') }},
        count(*) as hoover_count,
        sum(abs(hoover_value - hoover_mean)) / nullif(2.0 * sum(hoover_value), 0.0) as hoover
    from (
        select
            {{ keys | join(', ') }},
            cast({{ value }} as double) as hoover_value,
            avg(cast({{ value }} as double)) over (
                partition by {{ keys | join(', ') }}
            ) as hoover_mean
        from {{ relation }}
        where {{ value }} is not null
    ) as hoover_centred
    group by {{ keys | join(', ') }}
{%- endmacro %}
