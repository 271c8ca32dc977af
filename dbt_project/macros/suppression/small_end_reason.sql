{#
    A share of people is countable at both ends: 478 of 481 with a turn says that three are
    without. Where either end holds fewer people than the setting, only a bound is given.

    Worked examples (small_cell 10):
        counted 7, of 9      -> small_cell (the group itself is small)
        counted 7, of 481    -> end_coarsened, range 0 to 9/481
        counted 478, of 481  -> end_coarsened, range 472/481 to 1
        counted 10, of 20    -> null
        counted 10, of 19    -> end_coarsened (nine remain; either bound is true, the upper end
                                is given: 10/19 to 1)
        counted null, of 481 -> null (nothing was counted, so nothing is said)
#}
{% macro small_end_reason(counted, total) %}
    case
        when {{ total }} < {{ threshold('small_cell') }} then 'small_cell'
        when {{ small_end(counted, total) }} is not null then 'end_coarsened'
    end
{% endmacro %}


{# The bound that is given instead of the value: lower end of it. #}
{% macro coarse_low(counted, total) %}
    case {{ small_end(counted, total) }}
        when 'low' then 0.0
        when 'high'
            then ({{ total }} - {{ threshold('small_cell') }} + 1) / cast({{ total }} as double)
    end
{% endmacro %}


{# The bound that is given instead of the value: upper end of it. #}
{% macro coarse_high(counted, total) %}
    case {{ small_end(counted, total) }}
        when 'low' then ({{ threshold('small_cell') }} - 1) / cast({{ total }} as double)
        when 'high' then 1.0
    end
{% endmacro %}


{# The end of a share of people that is too small to be counted: low, high, or null. #}
{% macro small_end(counted, total) -%}
    {%- set least = threshold('small_cell') -%}
    {{ coded_end(counted, least, total ~ ' - ' ~ least) }}
{%- endmacro %}


{#
    Bottom and top coding: `low` below one line, `high` above the other, null on a line and between,
    and null for null. Where both hold, `low`.

    Worked example: 4.9, 5, 95 and 95.1 between 5 and 95 -> low, null, null, high (Delaware
    Department of Education, data suppression rules; source read).
#}
{% macro coded_end(value, bottom, top) -%}
    case
        when {{ value }} < {{ bottom }} then 'low'
        when {{ value }} > {{ top }} then 'high'
    end
{%- endmacro %}
