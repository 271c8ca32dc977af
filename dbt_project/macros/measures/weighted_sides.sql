{# Mean of the sides of fidelity that are known, each with its weight; null when none is.

   exposure   column to take for the pupils reached; the other sides have their own names
#}
{% macro weighted_sides(exposure) -%}
    {%- set columns = {'adherence': 'adherence', 'exposure': exposure, 'quality': 'quality',
        'responsiveness': 'responsiveness'} -%}
    (
        {%- for side, column in columns.items() %}
        {{ "+ " if not loop.first }}coalesce({{ threshold('weight_' ~ side) }} * {{ column }}, 0.0)
        {%- endfor %}
    ) / nullif(
        {%- for side, column in columns.items() %}
        {{ "+ " if not loop.first }}case when {{ column }} is null then 0.0
            else {{ threshold('weight_' ~ side) }} end
        {%- endfor %},
        0.0
    )
{%- endmacro %}


{# The weight of one side, told by the name of its measure. #}
{% macro side_weight(measure_name) -%}
    case {{ measure_name }}
        {%- for side in ['adherence', 'exposure', 'quality', 'responsiveness'] %}
        when '{{ side }}' then cast({{ threshold('weight_' ~ side) }} as double)
        {%- endfor %}
    end
{%- endmacro %}


{# One end of the range of fidelity: t standard errors from the figure where visits or classes were
   drawn again, else the mean of the sides' ends.
#}
{% macro fidelity_end(side, level, kind='') -%}
    {%- set of = '_high' if side == 'high' else '' -%}
    {%- set margin = t_margin('standard_error' ~ of, '1', 'spread_df', level) -%}
    case
        when standard_error is null then mean_{{ side }}{{ kind }}
        when {{ 'true' if side == 'low' else 'false' }} then greatest(0.0, value - {{ margin }})
        else least(1.0, value_high + {{ margin }})
    end
{%- endmacro %}
