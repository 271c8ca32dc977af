{# Mann & Kendall's test of a trend: Kendall's S of a value against its order, one row a series.

   relation  name of a CTE or table; keys: list of its columns
   order_by  its column that puts the points in order, a number or a date; value: its column
   Columns out: as `kendall`. `p_value` is exact for up to 50 points without ties, else normal with
   continuity and the variance corrected for ties.
   Mann (1945); Gilbert (1987), section 16.4 (from memory; checked against pymannkendall).
#}
{% macro mann_kendall(relation, keys, order_by, value) -%}
    {%- set by = keys | join(', ') -%}
    {%- set ranked -%}
        (
            select
                {{ by }},
                dense_rank() over (partition by {{ by }} order by {{ order_by }}) as trend_place,
                {{ value }} as trend_value
            from {{ relation }}
            where {{ order_by }} is not null
        ) as trend_points
    {%- endset -%}
    {{ kendall(ranked, keys, 'trend_place', 'trend_value') }}
{%- endmacro %}
