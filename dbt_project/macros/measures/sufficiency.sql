{# How much a figure rests on, from the counts and what its catalogue entry needs. #}
{% macro sufficiency() -%}
    case
        when value is null or session_count = 0 then 'none'
        when session_count - thin_count < usable_sessions then 'thin'
        when unit_count < usable_units then 'thin'
        when has_days and day_count < {{ threshold('min_days') }} then 'thin'
        when session_count - thin_count >= solid_sessions and unit_count >= solid_units
            then 'solid'
        else 'usable'
    end
{%- endmacro %}


{# Where a figure stands against our line; only where there is a line, a range and enough data. #}
{% macro status_word() -%}
    case
        when criterion is null or low is null or sufficiency in ('none', 'thin') then 'none'
        when {{ reaches('low', 'criterion') }} then 'met'
        when {{ reaches('low_one_sided', 'criterion') }} then 'likely_met'
        when {{ falls_short('high_one_sided', 'criterion') }} then 'likely_below'
        else 'unclear'
    end
{%- endmacro %}
