{# Baseline corrected tau, one row a group, as a query: Tarlow (2017) (example read).

   relation, keys, is_after, value   as for `nap`
   order_by   its column that puts the points in order, a number (sessions, days)
   Columns out: the keys, `baseline_slope` (Theil & Sen, per unit of `order_by`), `baseline_p`
   (Mann & Kendall), `tau_plain`, `tau_corrected` (of the values less the baseline's trend; pairs
   between the phases below the line), `tau_b_corrected` (Kendall's tau-b of the corrected values
   with the phase; 0 when all are alike). Corrected values are rounded to nine places, so that
   points on one line are tied. A group without points in both phases, or with one point before,
   has no row. Whether to correct is the caller's: Tarlow corrects where baseline_p < .05.
#}
{% macro baseline_corrected_tau(relation, keys, order_by, is_after, value) -%}
    {%- set by = keys | join(', ') -%}
    select *
    from (
        with bct_before as (
            select
                {{ by }},
                {{ order_by }} as bct_order,
                {{ value }} as bct_value
            from {{ relation }}
            where not ({{ is_after }})
        ),

        bct_slopes as (
            {{ theil_sen('bct_before', keys, 'bct_order', 'bct_value', 0.95) }}
        ),

        bct_trends as (
            {{ mann_kendall('bct_before', keys, 'bct_order', 'bct_value') }}
        ),

        bct_points as (
            select
                {{ keys_of('given_points', keys) }},
                given_points.bct_value,
                given_points.bct_phase,
                round(given_points.bct_value - bct_slopes.slope * given_points.bct_order, 9)
                    as bct_corrected
            from (
                select
                    {{ by }},
                    {{ order_by }} as bct_order,
                    cast({{ value }} as double) as bct_value,
                    case when {{ is_after }} then 1 else 0 end as bct_phase
                from {{ relation }}
                where ({{ is_after }}) is not null
            ) as given_points
            inner join bct_slopes on {{ same_keys('given_points', 'bct_slopes', keys) }}
            where bct_slopes.slope is not null
        ),

        bct_plain as (
            {{ nap('bct_points', keys, 'bct_phase = 1', 'bct_value', 'increase', 0.95) }}
        ),

        bct_nonoverlap as (
            {{ nap('bct_points', keys, 'bct_phase = 1', 'bct_corrected', 'increase', 0.95) }}
        ),

        bct_rank as (
            {{ kendall('bct_points', keys, 'bct_phase', 'bct_corrected') }}
        )

        select
            {{ keys_of('bct_plain', keys) }},
            bct_slopes.slope as baseline_slope,
            bct_trends.p_value as baseline_p,
            bct_plain.tau as tau_plain,
            bct_nonoverlap.tau as tau_corrected,
            coalesce(bct_rank.tau_b, 0.0) as tau_b_corrected
        from bct_plain
        inner join bct_nonoverlap on {{ same_keys('bct_plain', 'bct_nonoverlap', keys) }}
        inner join bct_rank on {{ same_keys('bct_plain', 'bct_rank', keys) }}
        inner join bct_slopes on {{ same_keys('bct_plain', 'bct_slopes', keys) }}
        inner join bct_trends on {{ same_keys('bct_plain', 'bct_trends', keys) }}
    ) as bct_rows
{%- endmacro %}
