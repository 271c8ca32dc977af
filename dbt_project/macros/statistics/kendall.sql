{# Kendall's rank correlation of two columns, one row a group, as a query.

   relation  name of a CTE or table; keys: list of its columns; x, y: its columns or expressions
   Columns out: the keys, `point_count`, `pair_count`, `s_score` (concordant minus discordant
   pairs), `untied_x_pairs`, `untied_y_pairs`, `tau_a` (S / pairs), `tau_scale` (square root of
   the product of the untied pairs), `tau_b` (S / that), `s_variance` (Kendall's, for ties in
   both), `z_plain` (S / sd), `z_score` (S moved by 1 towards 0), `p_plain`, `p_continuity` (two-sided,
   normal), `p_exact` (two-sided; null with ties or more than 50 points), `p_value` (exact where
   there is one, else with continuity). Rows with a null are left out. One point, or all tied in x
   or y: tau_b, z and p are null. Kendall (1970) (from memory; checked against scipy).
#}
{% macro kendall(relation, keys, x, y) -%}
    select
        *,
        coalesce(p_exact, p_continuity) as p_value
    from (
        select
            *,
            2.0 * {{ normal_cdf('-abs(z_plain)') }} as p_plain,
            2.0 * {{ normal_cdf('-abs(z_score)') }} as p_continuity,
            case
                when point_count between 2 and 50
                    and untied_x_pairs = pair_count and untied_y_pairs = pair_count
                    then least(1.0, 2.0 * {{ kendall_upper_tail('abs(s_score)', 'point_count') }})
            end as p_exact
        from (
            select
                *,
                s_score / nullif(pair_count, 0) as tau_a,
                sqrt(untied_x_pairs * untied_y_pairs) as tau_scale,
                s_score / nullif(sqrt(untied_x_pairs * untied_y_pairs), 0.0) as tau_b,
                s_score / nullif(sqrt(s_variance), 0.0) as z_plain,
                sign(s_score) * (abs(s_score) - least(1.0, abs(s_score)))
                / nullif(sqrt(s_variance), 0.0) as z_score
            from ({{ kendall_sums(relation, keys, x, y) }}) as kendall_summed
        ) as kendall_scored
    ) as kendall_tested
{%- endmacro %}


{# S, the pairs and the variance of S: pairs are joined once, ties counted by value. #}
{% macro kendall_sums(relation, keys, x, y) -%}
    {%- set by = keys | join(', ') -%}
    select *
    from (
        with kendall_points as (
            select
                {{ by }},
                cast({{ x }} as double) as x_value,
                cast({{ y }} as double) as y_value,
                row_number() over (partition by {{ by }} order by {{ x }}) as point_number
            from {{ relation }}
            where {{ x }} is not null and {{ y }} is not null
        ),

        kendall_pairs as (
            select
                {{ keys_of('one', keys) }},
                sum(sign(other.x_value - one.x_value) * sign(other.y_value - one.y_value))
                    as s_score
            from kendall_points as one
            inner join kendall_points as other
                on
                    {{ same_keys('one', 'other', keys) }}
                    and one.point_number < other.point_number
            group by {{ keys_of('one', keys) }}
        ),

        kendall_x as (
            {{ tie_sums('kendall_points', keys, 'x_value') }}
        ),

        kendall_y as (
            {{ tie_sums('kendall_points', keys, 'y_value') }}
        )

        select
            {{ keys_of('kendall_x', keys) }},
            cast(kendall_x.point_count as bigint) as point_count,
            kendall_x.point_count * (kendall_x.point_count - 1) / 2.0 as pair_count,
            cast(coalesce(kendall_pairs.s_score, 0.0) as double) as s_score,
            (kendall_x.point_count * (kendall_x.point_count - 1) - kendall_x.tie_pairs) / 2.0
                as untied_x_pairs,
            (kendall_y.point_count * (kendall_y.point_count - 1) - kendall_y.tie_pairs) / 2.0
                as untied_y_pairs,
            {{ kendall_variance('kendall_x.point_count', 'kendall_x', 'kendall_y') }} as s_variance
        from kendall_x
        inner join kendall_y on {{ same_keys('kendall_x', 'kendall_y', keys) }}
        left join kendall_pairs on {{ same_keys('kendall_x', 'kendall_pairs', keys) }}
    ) as kendall_sum_rows
{%- endmacro %}


{# What the variance of S needs of the sizes t of the groups of equal values, as a query:
   tie_pairs = sum t(t-1), tie_triples = sum t(t-1)(t-2), tie_weight = sum t(t-1)(2t+5). #}
{% macro tie_sums(relation, keys, value) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        sum(tie_size) as point_count,
        sum(tie_size * (tie_size - 1.0)) as tie_pairs,
        sum(tie_size * (tie_size - 1.0) * (tie_size - 2.0)) as tie_triples,
        sum(tie_size * (tie_size - 1.0) * (2.0 * tie_size + 5.0)) as tie_weight
    from (
        select
            {{ by }},
            cast(count(*) as double) as tie_size
        from {{ relation }}
        group by {{ by }}, {{ value }}
    ) as ties
    group by {{ by }}
{%- endmacro %}


{# Variance of S with ties in both rankings; `x`, `y` have the columns of `tie_sums`. #}
{% macro kendall_variance(n, x, y) -%}
    greatest(0.0, round(
        ({{ n }} * ({{ n }} - 1.0) * (2.0 * {{ n }} + 5.0) - {{ x }}.tie_weight
        - {{ y }}.tie_weight) / 18.0
        + {{ x }}.tie_triples * {{ y }}.tie_triples
        / greatest(9.0 * {{ n }} * ({{ n }} - 1.0) * ({{ n }} - 2.0), 1.0)
        + {{ x }}.tie_pairs * {{ y }}.tie_pairs / greatest(2.0 * {{ n }} * ({{ n }} - 1.0), 1.0), 12
    ))
{%- endmacro %}


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
