{# One linear system a row, solved by elimination (Gauss & Jordan), as a query.

   system   a relation, or a select in brackets with its name
   keep     list of columns to keep beside the answer
   size     number of unknowns; the relation has the columns vc_a_<row>_<column> and vc_b_<row>,
            numbered from 1, and vc_n, a number of the size of its largest coefficient
   Columns out: `keep`, vc_n, and vc_x_1 ... vc_x_<size>, all null when there is not one answer (a
   pivot below 1e-9 of vc_n counts as zero; the order of the equations is kept, so put those first
   that say most about their own unknown).
#}
{% macro solve_linear(system, keep, size) -%}
    {%- set ns = namespace(inner=system) -%}
    {%- for step in range(1, size + 1) -%}
        {%- set ns.inner -%}
            ({{ linear_step(ns.inner, keep, size, step) }}) as vc_step_{{ step }}
        {%- endset -%}
    {%- endfor -%}
    select
        {{ keep | join(', ') }},
        vc_n,
        {%- for row in range(1, size + 1) %}
        vc_b_{{ row }} / vc_a_{{ row }}_{{ row }} as vc_x_{{ row }}{{ ',' if not loop.last }}
        {%- endfor %}
    from {{ ns.inner }}
{%- endmacro %}


{# Unknown `step` taken out of every equation but its own. #}
{% macro linear_step(system, keep, size, step) -%}
    {%- set pivot -%}
        case
            when abs(vc_a_{{ step }}_{{ step }}) > 1e-9 * vc_n then vc_a_{{ step }}_{{ step }}
        end
    {%- endset -%}
    select
        {{ keep | join(', ') }},
        vc_n,
        {%- for row in range(1, size + 1) %}
        {{ pivot if row == step else 'vc_a_' ~ row ~ '_' ~ row if row < step }}
        {%- if row <= step %} as vc_a_{{ row }}_{{ row }},{% endif %}
        {%- for column in range(step + 1, size + 1) %}
        vc_a_{{ row }}_{{ column }}
        {%- if row != step %}
        - vc_a_{{ row }}_{{ step }} * vc_a_{{ step }}_{{ column }} / ({{ pivot }})
        {%- endif %} as vc_a_{{ row }}_{{ column }},
        {%- endfor %}
        vc_b_{{ row }}
        {%- if row != step %}
        - vc_a_{{ row }}_{{ step }} * vc_b_{{ step }} / ({{ pivot }})
        {%- endif %} as vc_b_{{ row }}{{ ',' if not loop.last }}
        {%- endfor %}
    from {{ system }}
{%- endmacro %}
