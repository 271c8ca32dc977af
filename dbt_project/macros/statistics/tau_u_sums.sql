{# Kendall's S between and within the phases, one row a group, as a query: what `tau_u` builds on.

   relation, keys, order_by, is_after, value, direction   as for `tau_u`
   Columns out: the keys, `point_count`, `before_count`, `after_count`, `s_between`, `s_before`,
   `s_after`, and the ties of the values over both phases as `tie_sums` gives them.
#}
{% macro tau_u_sums(relation, keys, order_by, is_after, value, direction) -%}
    {%- set by = keys | join(', ') -%}
    {%- set sign = '-' if direction == 'decrease' else '' -%}
    select *
    from (
        with tau_points as (
            select
                {{ by }},
                is_later,
                tau_value,
                row_number() over (partition by {{ by }} order by is_later, tau_order) as tau_place
            from (
                select
                    {{ by }},
                    {{ is_after }} as is_later,
                    {{ order_by }} as tau_order,
                    cast({{ sign }}{{ value }} as double) as tau_value
                from {{ relation }}
                where
                    {{ value }} is not null
                    and {{ order_by }} is not null
                    and ({{ is_after }}) is not null
            ) as tau_phases
        ),

        tau_counts as (
            select
                {{ by }},
                cast(count(*) as double) as point_count,
                cast(count(case when not is_later then 1 end) as double) as before_count,
                cast(count(case when is_later then 1 end) as double) as after_count
            from tau_points
            group by {{ by }}
        ),

        tau_scores as (
            select
                {{ keys_of('earlier', keys) }},
                {{ tau_u_score('later.is_later and not earlier.is_later') }} as s_between,
                {{ tau_u_score('not later.is_later') }} as s_before,
                {{ tau_u_score('earlier.is_later') }} as s_after
            from tau_points as earlier
            inner join tau_points as later
                on
                    {{ same_keys('earlier', 'later', keys) }}
                    and earlier.tau_place < later.tau_place
            group by {{ keys_of('earlier', keys) }}
        ),

        tau_ties as (
            {{ tie_sums('tau_points', keys, 'tau_value') }}
        )

        select
            tau_counts.*,
            tau_scores.s_between,
            tau_scores.s_before,
            tau_scores.s_after,
            tau_ties.tie_pairs,
            tau_ties.tie_triples,
            tau_ties.tie_weight
        from tau_counts
        inner join tau_scores on {{ same_keys('tau_counts', 'tau_scores', keys) }}
        inner join tau_ties on {{ same_keys('tau_counts', 'tau_ties', keys) }}
        where tau_counts.before_count > 0 and tau_counts.after_count > 0
    ) as tau_sum_rows
{%- endmacro %}


{% macro tau_u_score(condition) -%}
    cast(
        coalesce(
            sum(case when {{ condition }} then sign(later.tau_value - earlier.tau_value) end), 0
        ) as double
    )
{%- endmacro %}
