{# Names of the measure models of one form, from the list that the build found in the folder.

   int_measure_<name>   gives parts: one row a visit, lesson, slot or draw day; the roll-up does
                        the rest
   int_finished_<name>  gives finished rows for every level, for what cannot be added up
#}
{% macro measure_models(prefix) %}
    {%- set found = [] -%}
    {%- set given = var('measure_models') -%}
    {#- A linter gives a text instead of the list. -#}
    {%- for name in ([prefix ~ 'one'] if given is string else given) -%}
        {%- if name.startswith(prefix) -%}
            {%- set _ = found.append(name) -%}
        {%- endif -%}
    {%- endfor -%}
    {{- return(found) -}}
{% endmacro %}


{% macro part_columns() -%}
    school_id,
    class_id,
    routine_id,
    tier_code,
    event_on,
    is_substitute,
    is_thin,
    session_count,
    unit_count,
    numerator,
    numerator_high,
    denominator,
    score
{%- endmacro %}


{% macro finished_columns() -%}
    school_id,
    level_code,
    class_id,
    grade_code,
    tier_code,
    routine_id,
    term_id,
    window_code,
    week_first_on,
    detail,
    session_count,
    day_count,
    class_count,
    thin_count,
    unit_count,
    numerator_count,
    denominator_count,
    value,
    low,
    high,
    low_one_sided,
    high_one_sided,
    standard_error,
    spread_df
{%- endmacro %}


{# The columns of a finished measure model; it need not give an error and its degrees of freedom.

   A model that gives `standard_error` and `spread_df` says `gives_error: true` in its meta.measure.
#}
{% macro finished_columns_of(model) -%}
    {%- set given = finished_columns() -%}
    {%- if measure_meta(model).get('gives_error', false) -%}
        {{ given }}
    {%- else -%}
        {{ given
            | replace('standard_error', 'cast(null as double) as standard_error')
            | replace('spread_df', 'cast(null as double) as spread_df') }}
    {%- endif -%}
{%- endmacro %}


{# meta.measure of a measure model; empty while dbt only reads the project. #}
{% macro measure_meta(model) %}
    {%- set found = namespace(meta={}) -%}
    {%- if execute -%}
        {%- for node in graph.nodes.values() if node.name == model -%}
            {%- set found.meta = node.config.meta.measure -%}
        {%- endfor -%}
    {%- endif -%}
    {{- return(found.meta) -}}
{% endmacro %}
