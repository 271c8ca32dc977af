{# How often two observers of the same things agree, within each group, as a query.

   relation        name of a CTE or table; keys: list of its columns
   first, second   conditions: the one, the other saw it present; rows where either is null are left
                   out
   weight          how many times a row counts (default once)
   Columns out: the keys, `compared_count`, `agreed_count`, and shares, null when nothing goes into
   them:
   agreement                 both alike / compared (interval by interval)
   occurrence_agreement      both present / at least one present (misleads when most are present)
   nonoccurrence_agreement   both absent / at least one absent (misleads when most are absent)
   prevalence                mean of the two observers' shares present
   Definitions: Hawkins & Dotson (1975), from memory.
#}
{% macro agreement(relation, keys, first, second, weight='1') -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        agree_both + agree_neither + agree_first + agree_second as compared_count,
        agree_both + agree_neither as agreed_count,
        (agree_both + agree_neither)
        / nullif(agree_both + agree_neither + agree_first + agree_second, 0.0) as agreement,
        agree_both / nullif(agree_both + agree_first + agree_second, 0.0)
            as occurrence_agreement,
        agree_neither / nullif(agree_neither + agree_first + agree_second, 0.0)
            as nonoccurrence_agreement,
        (2.0 * agree_both + agree_first + agree_second)
        / nullif(2.0 * (agree_both + agree_neither + agree_first + agree_second), 0.0)
            as prevalence
    from (
        select
            {{ by }},
            {{ agree_sum('agree_x and agree_y') }} as agree_both,
            {{ agree_sum('not agree_x and not agree_y') }} as agree_neither,
            {{ agree_sum('agree_x and not agree_y') }} as agree_first,
            {{ agree_sum('agree_y and not agree_x') }} as agree_second
        from (
            select
                {{ by }},
                {{ first }} as agree_x,
                {{ second }} as agree_y,
                cast({{ weight }} as double) as agree_weight
            from {{ relation }}
        ) as agree_rows
        group by {{ by }}
    ) as agree_cells
{%- endmacro %}


{% macro agree_sum(condition) -%}
    sum(case when {{ condition }} then agree_weight else 0.0 end)
{%- endmacro %}
