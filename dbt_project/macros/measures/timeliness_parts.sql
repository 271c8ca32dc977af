{# Entries of a feed as parts of the share written down, or received, in `late_days` school days.

   relation     CTE with school_id, class_id and the two days below
   day_counts   CTE with the rows of int_class_day_counts
   event_on     day of the event; written_on: day on which it was written down or came in
   Written down on the day itself or before is in time; a day beyond the class's calendar is late.
#}
{% macro timeliness_parts(relation, day_counts, event_on, written_on) -%}
    select
        {{ relation }}.school_id,
        {{ relation }}.class_id,
        cast(null as string) as routine_id,
        cast(null as string) as tier_code,
        {{ relation }}.{{ event_on }} as event_on,
        false as is_substitute,
        false as is_thin,
        1 as session_count,
        1.0 as unit_count,
        {{ timely(relation, event_on, written_on) }} as numerator,
        {{ timely(relation, event_on, written_on) }} as numerator_high,
        1.0 as denominator,
        cast(null as double) as score
    from {{ relation }}
    left join {{ day_counts }} as event_days
        on
            {{ relation }}.class_id = event_days.class_id
            and {{ relation }}.{{ event_on }} = event_days.day_on
    left join {{ day_counts }} as written_days
        on
            {{ relation }}.class_id = written_days.class_id
            and {{ relation }}.{{ written_on }} = written_days.day_on
{%- endmacro %}


{# 1.0 for an entry in time, else 0.0. #}
{% macro timely(relation, event_on, written_on) -%}
    case
        when {{ relation }}.{{ written_on }} <= {{ relation }}.{{ event_on }} then 1.0
        when
            written_days.school_days_so_far - event_days.school_days_so_far
            <= {{ threshold('late_days') }}
            then 1.0
        else 0.0
    end
{%- endmacro %}


{# Rows that came in after the school's first load, with the day on which they did as `written_on`.
   The first load brings the past at once and says nothing about how soon things come in.
#}
{% macro after_first_load(relation) -%}
    select * from (
        select
            *,
            {{ local_date('received_at') }} as written_on
        from {{ relation }}
    ) as dated
    qualify written_on > min(written_on) over (partition by school_id)
{%- endmacro %}
