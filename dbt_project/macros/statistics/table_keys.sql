{# The keys of a table in a join. #}
{% macro same_table(one, other, keys) -%}
    {%- for key in keys %}{{ one }}.{{ key }} = {{ other }}.{{ key }}
        {%- if not loop.last %} and {% endif %}
    {%- endfor %}
{%- endmacro %}


{# Columns of a relation, by its name. #}
{% macro qualified(relation, columns) -%}
    {%- for column in columns %}{{ relation }}.{{ column }}{% if not loop.last %}, {% endif %}
    {%- endfor %}
{%- endmacro %}
