{# Which side of zero a range lies on, in one of three words; `too_few` where there is none.

   least, pooled   how far the value must lie from zero when drawn towards it, to be on a side
#}
{% macro range_word(value, margin, below, between, above, least='0.0', pooled=none) -%}
    case
        when {{ value }} - {{ margin }} is null then 'too_few'
        when {{ value }} + {{ margin }} < 0.0 and {{ pooled or value }} <= -{{ least }}
            then '{{ below }}'
        when {{ value }} - {{ margin }} > 0.0 and {{ pooled or value }} >= {{ least }}
            then '{{ above }}'
        else '{{ between }}'
    end
{%- endmacro %}
