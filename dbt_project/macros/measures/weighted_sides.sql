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


{# Half the width of the range of fidelity at a level, for its lower or its upper end. #}
{% macro fidelity_margin(side, level) -%}
    {{ t_margin('standard_error_high' if side == 'high' else 'standard_error', '1', 'spread_df',
        level) }}
{%- endmacro %}


{# One end of the range of fidelity: as far from the figure as visits or classes drawn again say,
   skew where it is near 0 or 1; else the mean of the sides' ends.

   margin  column with `fidelity_margin`
#}
{% macro fidelity_end(side, margin, kind='') -%}
    case
        when {{ margin }} is null then mean_{{ side }}{{ kind }}
        else {{ own_share_end(side, 'value_high' if side == 'high' else 'value', margin) }}
    end
{%- endmacro %}
