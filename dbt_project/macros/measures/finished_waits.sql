{# Finished rows of a Kaplan-Meier median with its range: time until something happened.

   relation   CTE with the columns of `finished_keys`, a time, whether the watching stopped first,
              and `design_effect`, the same for a whole cell
   counts     CTE with the keys, session_count, day_count and class_count
#}
{% macro finished_waits(relation, counts, time, is_censored) -%}
    {%- set keys = finished_keys().split(', ') -%}
    select
        {{ finished_row(
            value='median_time',
            numerator='event_count',
            denominator='event_count + censored_count',
            sessions='session_count',
            days='day_count',
            units='event_count + censored_count',
            classes='class_count',
            low='median_low',
            high='median_high'
        ) }}
    from (
        select
            {{ counts }}.*,
            medians.median_time,
            medians.event_count,
            medians.censored_count,
            case when medians.median_time is not null then ranges.low end as median_low,
            case when medians.median_time is not null then ranges.high end as median_high
        from {{ counts }}
        inner join (
            {{ kaplan_meier_median(relation, keys, time, is_censored) }}
        ) as medians on {{ same_cell(counts, 'medians') }}
        left join (
            {{ kaplan_meier_range(
                relation, keys, time, is_censored, threshold('ci_level'), 'design_effect'
            ) }}
        ) as ranges on {{ same_cell(counts, 'ranges') }}
    ) as waits
{%- endmacro %}
