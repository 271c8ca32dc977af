{# A text as a SQL literal; none is null. #}
{% macro sql_text(value) -%}
    {%- if value is none or value is undefined -%} null
    {%- else -%} '{{ value | replace("'", "''") }}'
    {%- endif -%}
{%- endmacro %}
