{# Krippendorff's alpha: agreement of any number of observers with gaps, as a query.

   relation     name of a CTE or table, one row a rating; keys: list of its columns
   unit, code   its columns: what was rated, which code it got; rows with a null code are left out
   metric       nominal, ordinal, interval, ratio: how far two codes are apart; codes are numbers
                for all but nominal
   Columns out: the keys, `unit_count` and `rating_count` (of units rated at least twice; others
   have no pair), `alpha`: 1 - seen / chance disagreement. Null when only one code occurs.
   Krippendorff (2011), Computing Krippendorff's alpha-reliability.
#}
{% macro krippendorff_alpha(relation, keys, unit, code, metric='nominal') -%}
    {%- set by = keys | join(', ') -%}
    select * from (
        with alpha_units as (
            select
                {{ by }},
                {{ unit }} as alpha_unit,
                {{ code }} as alpha_code,
                cast(count(*) as double) as alpha_count,
                cast(sum(count(*)) over (partition by {{ by }}, {{ unit }}) as double)
                    as alpha_size
            from {{ relation }}
            where {{ code }} is not null
            group by {{ by }}, {{ unit }}, {{ code }}
        ),

        alpha_cells as (
            select * from alpha_units
            where alpha_size >= 2.0
        ),

        alpha_groups as (
            select
                {{ by }},
                count(distinct alpha_unit) as unit_count,
                sum(alpha_count) as alpha_n
            from alpha_cells
            group by {{ by }}
        ),

        -- `alpha_below`: ratings of smaller codes and half of the code's own.
        alpha_codes as (
            select
                {{ by }},
                alpha_code,
                sum(alpha_count) as alpha_total,
                sum(sum(alpha_count)) over (
                    partition by {{ by }} order by alpha_code
                    rows between unbounded preceding and current row
                ) - sum(alpha_count) / 2.0 as alpha_below
            from alpha_cells
            group by {{ by }}, alpha_code
        ),

        alpha_apart as (
            select
                {{ by }},
                one.alpha_code as alpha_one,
                other.alpha_code as alpha_other,
                one.alpha_total * other.alpha_total as alpha_chance,
                {{ alpha_distance(metric) }} as alpha_v
            from alpha_codes as one
            inner join alpha_codes as other using ({{ by }})
        ),

        alpha_expected as (
            select
                {{ by }},
                sum(alpha_chance * alpha_v) as alpha_luck
            from alpha_apart
            group by {{ by }}
        ),

        alpha_observed as (
            select
                {{ by }},
                sum(
                    one.alpha_count * other.alpha_count * alpha_apart.alpha_v
                    / (one.alpha_size - 1.0)
                ) as alpha_seen
            from alpha_cells as one
            inner join alpha_cells as other using ({{ by }}, alpha_unit)
            inner join alpha_apart using ({{ by }})
            where one.alpha_code = alpha_apart.alpha_one
                and other.alpha_code = alpha_apart.alpha_other
            group by {{ by }}
        )

        select
            {{ by }},
            unit_count,
            alpha_n as rating_count,
            1.0 - (alpha_n - 1.0) * alpha_seen / nullif(alpha_luck, 0.0) as alpha
        from alpha_groups
        inner join alpha_expected using ({{ by }})
        inner join alpha_observed using ({{ by }})
    ) as alpha_finished
{%- endmacro %}


{# Squared distance of two codes; on the diagonal it is 0, so that like pairs need no care. #}
{% macro alpha_distance(metric) -%}
    {%- set one = 'cast(one.alpha_code as double)' -%}
    {%- set other = 'cast(other.alpha_code as double)' -%}
    {%- if metric == 'nominal' -%}
        case when one.alpha_code = other.alpha_code then 0.0 else 1.0 end
    {%- elif metric == 'ordinal' -%}
        power(one.alpha_below - other.alpha_below, 2)
    {%- elif metric == 'interval' -%}
        power({{ one }} - {{ other }}, 2)
    {%- elif metric == 'ratio' -%}
        coalesce(power(({{ one }} - {{ other }}) / nullif({{ one }} + {{ other }}, 0.0), 2), 0.0)
    {%- endif -%}
{%- endmacro %}
