{# One number that a school may set; an unknown or missing name stops the build.

   A linter has no settings and gives a text for them: then any number will do.
#}
{% macro threshold(name) %}
    {%- set given = var('thresholds') -%}
    {%- if given is not mapping -%}
        1
    {%- elif name in given -%}
        {{ given[name] }}
    {%- else -%}
        {{ exceptions.raise_compiler_error("The threshold '" ~ name ~ "' was not given.") }}
    {%- endif -%}
{% endmacro %}
