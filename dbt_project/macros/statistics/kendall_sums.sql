{# Kendall's S with its pairs and its variance, one row a group: what `kendall` builds on.

   relation  name of a CTE or table; keys: list of its columns; x, y: its columns or expressions
   Columns out: the keys, `point_count`, `pair_count`, `s_score`, `untied_x_pairs`,
   `untied_y_pairs`, `s_variance` (0 where all are tied). Rows with a null are left out. One point:
   no pair, all 0. Pairs are joined once, ties counted by value.
#}
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
