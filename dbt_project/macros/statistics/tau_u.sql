{# Tau-U: nonoverlap of two phases with and without their trends, one row a group, as a query.

   relation   name of a CTE or table; keys: list of its columns
   order_by   its column that puts the points in order, unique within the keys
   is_after   condition: true in the second phase; value: column or expression
   direction  'increase' or 'decrease' is better: turns every S
   Columns out: the keys, `before_count`, `after_count`, `s_between`, `s_before`, `s_after`
   (Kendall's S of the pairs between and within the phases), and for each of the four indices
     between          S between                          / pairs between
     minus_before     S between - S before               / pairs between
     plus_after       S between + S after                / pairs between and within after
     full             S between - S before + S after     / all pairs
   `tau_<index>`, `sd_<index>` (Kendall's variance with ties of the values, phases ranked as the
   index does), `z_<index>` (S / sd), `p_<index>` (two-sided, normal). `sd_untied` is the sd between
   without correction for ties. A group without points in both phases has no row.
   Parker, Vannest, Davis & Sauber (2011) (example read).
#}
{% macro tau_u(relation, keys, order_by, is_after, value, direction) -%}
    {%- set by = keys | join(', ') -%}
    {%- set between = 'before_count * after_count' -%}
    {%- set within_after = 'after_count * (after_count - 1.0) / 2.0' -%}
    {%- set both = ['before_count', 'after_count'] -%}
    {#- Each index with its score, the pairs below the line, the phases whose places are tied. -#}
    {%- set indices = [
        ['between', 's_between', between, both],
        ['minus_before', 's_between - s_before', between, ['after_count']],
        ['plus_after', 's_between + s_after', between ~ ' + ' ~ within_after, ['before_count']],
        ['full', 's_between - s_before + s_after', 'point_count * (point_count - 1.0) / 2.0', []],
    ] -%}
    select
        *,
        sqrt(before_count * after_count * (before_count + after_count + 1.0) / 3.0) as sd_untied
        {%- for index, _, _, _ in indices %},
        2.0 * {{ normal_cdf('-abs(z_' ~ index ~ ')') }} as p_{{ index }}
        {%- endfor %}
    from (
        select
            {{ by }},
            cast(before_count as bigint) as before_count,
            cast(after_count as bigint) as after_count,
            s_between,
            s_before,
            s_after
            {%- for index, score, pairs, tied in indices %},
            ({{ score }}) / ({{ pairs }}) as tau_{{ index }},
            sqrt({{ tau_u_variance(tied) }}) as sd_{{ index }},
            ({{ score }}) / nullif(sqrt({{ tau_u_variance(tied) }}), 0.0) as z_{{ index }}
            {%- endfor %}
        from ({{ tau_u_sums(relation, keys, order_by, is_after, value, direction) }}) as tau_sums
    ) as tau_scored
{%- endmacro %}


{# Kendall's variance of S where the places of whole phases are tied. #}
{% macro tau_u_variance(tied) -%}
    greatest(0.0, round(
        (
            point_count * (point_count - 1.0) * (2.0 * point_count + 5.0) - tie_weight
            {%- for size in tied %}
            - {{ size }} * ({{ size }} - 1.0) * (2.0 * {{ size }} + 5.0)
            {%- endfor %}
        ) / 18.0
        {%- for size in tied %}
        + tie_triples * {{ size }} * ({{ size }} - 1.0) * ({{ size }} - 2.0)
        / greatest(9.0 * point_count * (point_count - 1.0) * (point_count - 2.0), 1.0)
        + tie_pairs * {{ size }} * ({{ size }} - 1.0)
        / greatest(2.0 * point_count * (point_count - 1.0), 1.0)
        {%- endfor %}, 12
    ))
{%- endmacro %}


{# Kendall's S between and within the phases, and the ties of the values over both. #}
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
