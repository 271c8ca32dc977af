{# Share of pupils drawn at least once, to be expected by luck when every card goes back at once.

   pupils   1 or more, all there all the time; null below 1
   draws    0 or more; null below 0
   Formula: 1 - (1 - 1 / pupils)^draws, exact (occupancy; Feller 1968, from memory).
#}
{% macro expected_coverage(pupils, draws) -%}
    case
        when {{ pupils }} >= 1 and {{ draws }} >= 0 then
            1.0 - power(1.0 - 1.0 / cast({{ pupils }} as double), cast({{ draws }} as double))
    end
{%- endmacro %}


{# The same when names are drawn in rounds, each once before a second turn. #}
{% macro expected_coverage_in_rounds(pupils, draws) -%}
    case
        when {{ pupils }} >= 1 and {{ draws }} >= 0 then
            least(1.0, cast({{ draws }} as double) / cast({{ pupils }} as double))
    end
{%- endmacro %}
