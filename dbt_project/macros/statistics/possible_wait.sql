{# Longest wait between two turns that is possible when full rounds are shuffled anew, in draws.

   pupils   1 or more, all there all the time; null below 1
   First in one round and last in the next: 2 N - 1 draws from the one turn to the other.
#}
{% macro possible_wait(pupils) -%}
    case when {{ pupils }} >= 1 then 2.0 * cast({{ pupils }} as double) - 1.0 end
{%- endmacro %}


{# Longest wait that luck lets pass at most with the given chance when every card goes back at once.

   pupils   2 or more; with one there is no wait: 1. Null below 1
   draws    draws in the time looked at, 0 or more
   chance   0 < chance < 1, that anybody at all waits longer
   Every draw and every pupil begins a wait; each passes w draws with chance (1 - 1/N)^w. Boole's
   inequality over draws + pupils waits gives w; the true chance is below the given one.
#}
{% macro wait_by_luck(pupils, draws, chance) -%}
    {%- set n = 'cast(' ~ pupils ~ ' as double)' -%}
    case
        when {{ pupils }} = 1 then 1.0
        when {{ pupils }} > 1 then
            ceil(
                ln({{ chance }} / (cast({{ draws }} as double) + {{ n }})) / ln(1.0 - 1.0 / {{ n }})
            )
    end
{%- endmacro %}


{# Draws as draw days at so many draws a day, rounded up; null when nothing is drawn. #}
{% macro draw_days(draws, draws_a_day) -%}
    cast(ceil(({{ draws }}) / nullif(cast({{ draws_a_day }} as double), 0.0)) as bigint)
{%- endmacro %}
