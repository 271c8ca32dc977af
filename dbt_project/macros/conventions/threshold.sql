{# One number that a school may set; an unknown or missing name stops the build. #}
{% macro threshold(name) %}
    {%- set given = var('thresholds') -%}
    {%- if name not in given -%}
        {{ exceptions.raise_compiler_error("The threshold '" ~ name ~ "' was not given.") }}
    {%- endif -%}
    {{- given[name] -}}
{% endmacro %}
