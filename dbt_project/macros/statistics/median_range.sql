{# Median of each group with its range by order statistics, as a query.

   relation, keys, value   CTE or table, list of its columns, column of numbers (null: left out)
   level          two-sided level as a number
   design_effect  what to divide the number of rows by when rows are alike, such as the draws of one
                  day: a number, or a column that is the same for a whole group
   Columns out: the keys, `value_count`, `median_value`, `low`, `high`: values that occurred. Both
   ends are null where even the extremes do not reach the level: below six rows at 95 %.
   Exact for any distribution (David & Nagaraja 2003, 7.1): the ends are the k-th values from either
   side, k the largest with P(B < k) at most half of 1 - level, B binomial (n, 1/2). With a design
   effect, k is found for the n that is left and the same share k / (n + 1) of all rows is taken.
#}
{% macro median_range(relation, keys, value, level, design_effect='1.0') -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        count(*) as value_count,
        median(mr_value) as median_value,
        min(case when mr_place = mr_end then mr_value end) as low,
        min(case when mr_place = mr_count + 1 - mr_end then mr_value end) as high
    from (
        select
            *,
            floor(
                (mr_count + 1) * max(case when mr_tail <= (1.0 - {{ level }}) / 2.0
                    then mr_place end) over (partition by {{ by }}) / (mr_worth + 1.0) + 1e-9
            ) as mr_end
        from (
            select
                *,
                case
                    when mr_place <= mr_worth
                        then sum(exp(mr_log_ways - mr_worth * ln(2.0))) over mr_so_far
                end as mr_tail
            from (
                select
                    *,
                    sum(
                        case
                            when mr_place > 1 and mr_place <= mr_worth
                                then ln((mr_worth - mr_place + 2.0) / (mr_place - 1.0))
                            else 0.0
                        end
                    ) over mr_so_far as mr_log_ways
                from (
                    {{ median_places(relation, by, value, design_effect) }}
                ) as mr_placed
                window mr_so_far as (
                    partition by {{ by }} order by mr_place
                    rows between unbounded preceding and current row
                )
            ) as mr_counted
            window mr_so_far as (
                partition by {{ by }} order by mr_place
                rows between unbounded preceding and current row
            )
        ) as mr_tails
    ) as mr_ends
    group by {{ by }}
{%- endmacro %}


{# Rows in order within their group: `mr_value`, `mr_place` from 1, `mr_count` of the group and
   `mr_worth`, the whole number of independent rows that they are worth.
#}
{% macro median_places(relation, by, value, design_effect) -%}
    select
        {{ by }},
        cast({{ value }} as double) as mr_value,
        row_number() over (partition by {{ by }} order by {{ value }}) as mr_place,
        count(*) over (partition by {{ by }}) as mr_count,
        floor(count(*) over (partition by {{ by }}) / {{ design_effect }} + 1e-9) as mr_worth
    from {{ relation }}
    where {{ value }} is not null
{%- endmacro %}
