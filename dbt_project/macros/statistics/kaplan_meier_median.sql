{# Median time by Kaplan & Meier (1958) within each group, as a query.

   relation     name of a CTE or table; keys: list of its columns
   time         seconds until it happened, or until the watching stopped
   is_censored  true where the watching stopped first
   Columns out: the keys, `median_time` (the first time at which at most half are left; null when
   more than half were still going on), `event_count`, `censored_count`.
   At one time, events come before censored rows, as usual. Rows with a null time are left out.
#}
{% macro kaplan_meier_median(relation, keys, time, is_censored) -%}
    {%- set by = keys | join(', ') -%}
    select
        {{ by }},
        min(case when km_left <= 0.5 + 1e-12 then km_time end) as median_time,
        cast(sum(km_events) as bigint) as event_count,
        cast(sum(km_censored) as bigint) as censored_count
    from (
        {{ kaplan_meier_curve(relation, keys, time, is_censored) }}
    ) as km_curve
    group by {{ by }}
{%- endmacro %}


{# The curve behind it: the keys and, at each time, `km_time`, `km_events`, `km_censored`,
   `km_at_risk`, `km_left` (share still going on) and `km_spread` (Greenwood 1926: sum of
   d / (n (n - d)) so far, the variance of `km_left` over its square; null where nobody is left),
   and `km_effect`, the design effect as given: a column that is the same for a whole group.
#}
{% macro kaplan_meier_curve(relation, keys, time, is_censored, design_effect='1.0') -%}
    {%- set by = keys | join(', ') -%}
    select
        *,
        case
            when not bool_and(km_at_risk > km_events) over km_so_far then 0.0
            else exp(
                sum(
                    case
                        when km_at_risk > km_events then ln(1.0 - km_events * 1.0 / km_at_risk)
                    end
                ) over km_so_far
            )
        end as km_left,
        case
            when bool_and(km_at_risk > km_events) over km_so_far
                then sum(
                    cast(km_events as double) / nullif(km_at_risk * (km_at_risk - km_events), 0)
                ) over km_so_far
        end as km_spread
    from (
        select
            {{ by }},
            {{ time }} as km_time,
            sum(case when {{ is_censored }} then 0 else 1 end) as km_events,
            sum(case when {{ is_censored }} then 1 else 0 end) as km_censored,
            max({{ design_effect }}) as km_effect,
            sum(count(*)) over (
                partition by {{ by }} order by {{ time }} desc
                rows between unbounded preceding and current row
            ) as km_at_risk
        from {{ relation }}
        where {{ time }} is not null
        group by {{ by }}, {{ time }}
    ) as km_times
    window km_so_far as (
        partition by {{ by }} order by km_time
        rows between unbounded preceding and current row
    )
{%- endmacro %}
