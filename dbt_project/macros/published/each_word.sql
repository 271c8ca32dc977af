{# One row for each word of a text, as a select expression; a full stop may still cling to it. #}
{% macro each_word(text) %}
    {{- return(adapter.dispatch('each_word', 'roundelay')(text)) -}}
{% endmacro %}

{% macro default__each_word(text) -%}
    unnest(regexp_extract_all({{ text }}, '[^\s;,()]+'))
{%- endmacro %}

{% macro spark__each_word(text) %}explode(split({{ text }}, '[\\s;,()]+')){% endmacro %}
