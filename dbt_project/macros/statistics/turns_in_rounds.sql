{# Fewest and most turns of a pupil after so many draws in shuffled rounds, everyone being there.

   pupils   1 or more; null below 1
   draws    0 or more, whole
   Identity: floor and ceiling of draws / pupils; nobody is two turns ahead of another.
#}
{% macro fewest_turns_in_rounds(pupils, draws) -%}
    case
        when {{ pupils }} >= 1 then
            cast(floor(cast({{ draws }} as double) / cast({{ pupils }} as double)) as bigint)
    end
{%- endmacro %}


{% macro most_turns_in_rounds(pupils, draws) -%}
    case
        when {{ pupils }} >= 1 then
            cast(ceil(cast({{ draws }} as double) / cast({{ pupils }} as double)) as bigint)
    end
{%- endmacro %}
