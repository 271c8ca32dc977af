{# Mean of the visits since a line began to stand; null while they are too few.

   now     relation with session_count and score_sum of the term so far
   begun   relation with begun_sessions and begun_sum, the same when the line began to stand
#}
{% macro mean_since(now, begun) -%}
    coalesce(
        case
            when {{ now }}.session_count - {{ begun }}.begun_sessions
                >= {{ threshold('min_sessions') }}
                then round(
                    ({{ now }}.score_sum - {{ begun }}.begun_sum)
                    / ({{ now }}.session_count - {{ begun }}.begun_sessions),
                    9
                )
        end,
        -1.0
    )
{%- endmacro %}


{# What would settle a line that stands, or let a thin one be read, as a code and a count of visits.

   back_at_line   the visits since it was opened are to be enough and their mean at the line:
                  `closing_value` is the mean that the next `closing_session_count` visits need;
                  as many are asked as make it at most half way from the line to all as agreed
   quiet_visits   visits still needed without a run under the line; none: the next review closes it
   more_visits    visits (or days) still needed before anything can be said
#}
{% macro closing_columns(row) -%}
    {%- set line = threshold('criterion') -%}
    {%- set since = '(' ~ row ~ '.session_count - ' ~ row ~ '.begun_sessions)' -%}
    {%- set total = '(' ~ row ~ '.score_sum - ' ~ row ~ '.begun_sum)' -%}
    {%- set visits -%}
        greatest(
            1,
            {{ threshold('min_sessions') }} - {{ since }},
            ceil(round(({{ line }} * {{ since }} - {{ total }}) / ((1.0 - {{ line }}) / 2.0), 6))
        )
    {%- endset -%}
    {%- set is_thin -%}
        {{ row }}.is_planned and not {{ row }}.is_readable and not {{ row }}.has_held
    {%- endset -%}
    case
        when {{ row }}.stands and {{ row }}.is_back then 'quiet_visits'
        when {{ row }}.stands then 'back_at_line'
        when {{ is_thin }} then 'more_visits'
    end as closing_code,
    case
        when {{ row }}.stands and {{ row }}.is_back then cast({{ line }} as double)
        when {{ row }}.stands
            then round(({{ line }} * ({{ since }} + {{ visits }}) - {{ total }}) / {{ visits }}, 9)
    end as closing_value,
    cast(
        case
            when {{ row }}.stands and {{ row }}.is_back then greatest(
                0,
                {{ threshold('offer_quiet_visits') }}
                - ({{ row }}.session_count - coalesce({{ row }}.turned_sessions,
                    {{ row }}.session_count))
            )
            when {{ row }}.stands then {{ visits }}
            when {{ is_thin }} then greatest(
                1,
                {{ threshold('min_sessions') }} - {{ row }}.session_count,
                {{ threshold('min_days') }} - {{ row }}.day_count
            )
        end as bigint
    ) as closing_session_count
{%- endmacro %}
