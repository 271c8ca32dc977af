{# Whether a corner can move as far as the protected cell must, within what is known of it, and
   within what is known where no reason tells of a size. `sign` is SQL: 1 or -1 by the margins.
#}
{% macro corner_room(corner, sign, way, least) -%}
    {%- set with_it = sign ~ ' = ' ~ way -%}
    {%- set falls = 'case when ' ~ with_it ~ ' then protected.fall else protected.rise end' -%}
    case
        when {{ with_it }}
            then
                {{ corner }}.cell_count - protected.fall >= {{ corner }}.cell_low
                and (
                    {{ corner }}.cell_high is null
                    or {{ corner }}.cell_count + protected.rise <= {{ corner }}.cell_high
                )
        else
            {{ corner }}.cell_count - protected.rise >= {{ corner }}.cell_low
            and (
                {{ corner }}.cell_high is null
                or {{ corner }}.cell_count + protected.fall <= {{ corner }}.cell_high
            )
    end as is_wide_{{ corner }},
    {{ corner }}.cell_count >= {{ falls if least else 'least(1.0, protected.rise)' }}
        as is_open_{{ corner }}
{%- endmacro %}


{# What a rectangle withholds that was shown, added up over its other three cells: `kind` is
   margins, cells, or counts. #}
{% macro corner_cost(kind) -%}
    {%- for corner in ['beside', 'below', 'across'] -%}
    case
        when {{ corner }}.is_gone then 0
        {%- if kind == 'margins' %}
        when not {{ corner }}.is_margin then 0
        {%- endif %}
        else {{ corner ~ '.cell_count' if kind == 'counts' else 1 }}
    end {% if not loop.last %}+ {% endif %}
    {%- endfor -%}
{%- endmacro %}
