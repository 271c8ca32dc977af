{# Range of the Kaplan-Meier median within each group, as a query (Brookmeyer & Crowley 1982).

   relation, keys, time, is_censored   as for `kaplan_meier_median`
   level          two-sided level as a number
   design_effect  factor on the variance for times that are alike, such as those of one visit: a
                  number, or a column that is the same for a whole group
   Columns out: the keys, `low` and `high`, both of them times at which it happened. `high` is null
   where the end lies beyond what was watched. A group in which it never happened has no row.
   Formula: the times at which the log-log score of half being left,
       (ln(-ln S) - ln(ln 2)) |ln S| / sqrt(Greenwood sum x design effect),
   lies within the normal quantile; the upper end is the next time after the last of them. Where
   nobody is left the score does not exist: then half being left is ruled out when .5 to the power
   of the events (over the design effect) is at most half of 1 - level: from six events at 95 %.
#}
{% macro kaplan_meier_range(relation, keys, time, is_censored, level, design_effect='1.0') -%}
    {%- set by = keys | join(', ') -%}
    {%- set curve = kaplan_meier_curve(relation, keys, time, is_censored, design_effect) -%}
    select
        {{ by }},
        min(case when km_score >= -1.0 * km_limit then km_time end) as low,
        min(case when km_last_open is null or km_time > km_last_open then km_time end) as high
    from (
        select
            *,
            max(case when km_score <= km_limit then km_time end) over (partition by {{ by }})
                as km_last_open
        from (
            select
                *,
                {{ two_sided_z(level) }} as km_limit,
                case
                    when km_left > 0.0
                        then -1.0 * ln(km_left) * (ln(-1.0 * ln(km_left)) - ln(ln(2.0)))
                            / sqrt(km_spread * km_effect)
                    when power(0.5, km_events_so_far / km_effect) <= (1.0 - {{ level }}) / 2.0
                        then 1e9
                    else 0.0
                end as km_score
            from (
                select
                    *,
                    sum(km_events) over (
                        partition by {{ by }} order by km_time
                        rows between unbounded preceding and current row
                    ) as km_events_so_far
                from (
                    {{ curve }}
                ) as km_curve
            ) as km_counted
            where km_events > 0
        ) as km_scored
    ) as km_ends
    group by {{ by }}
{%- endmacro %}
