{# What the runs of a series say; `runs` is a relation with the columns of `run_chart`. #}
{% macro run_signal(runs) -%}
    case
        when not coalesce({{ runs }}.is_tested, false) then 'too_few'
        when not ({{ runs }}.has_long_run or {{ runs }}.has_few_crossings) then 'none'
        when {{ runs }}.direction = 1 then 'shift_up'
        else 'shift_down'
    end
{%- endmacro %}
