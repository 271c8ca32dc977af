{# False discovery rate of Benjamini & Hochberg (1995) within each group, as a query.

   relation  name of a CTE or table; keys: list of its columns that name a group, may be empty
   p         its column with the p values, 0 to 1; a row without one counts for nothing
   Columns out: all columns of the relation and `adjusted_p`: the smallest rate q at which this row
   is among those found (null without a p). adjusted_p <= q is the paper's step-up procedure.
#}
{% macro benjamini_hochberg(relation, keys, p) -%}
    {%- set by = 'partition by ' ~ keys | join(', ') if keys else '' -%}
    select
        {{ all_but(['bh_own']) }},
        case
            when {{ p }} is not null then min(bh_own) over (
                {{ by }} order by {{ p }} desc range between unbounded preceding and current row
            )
        end as adjusted_p
    from (
        select
            *,
            cast({{ p }} as double) * count({{ p }}) over ({{ by }})
            / nullif(count({{ p }}) over (
                {{ by }} order by {{ p }} asc nulls last
                range between unbounded preceding and current row
            ), 0) as bh_own
        from {{ relation }}
    ) as bh_places
{%- endmacro %}
