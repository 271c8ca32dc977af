{#
    What the YAML beside each measure says of its counts, as rows: measure_name and four answers.
    One place says it, the measure itself; no list of names stands here.

    meta.measure.counts   numerator, denominator, units: each `people` or `looks`
    meta.measure.about    `supported` (the few children with a plan of their own), `groups` (one
                          group of children beside the others), or nothing
#}
{% macro measure_counts() %}
    {%- set rows = [] -%}
    {%- for model in var('measure_models') if execute -%}
        {%- set node = graph.nodes.values() | selectattr('name', 'equalto', model) | first -%}
        {%- set meta = node.config.meta.get('measure', {}) -%}
        {%- set counts = meta.get('counts', {}) -%}
        {%- set said = [
            counts.get('numerator') == 'people',
            counts.get('denominator') == 'people',
            meta.get('about') == 'supported',
            meta.get('about') == 'groups',
        ] -%}
        {%- set name = "'" ~ measure_name_of(model) ~ "'" -%}
        {%- set _ = rows.append('(' ~ name ~ ', ' ~ said | join(', ') | lower ~ ')') -%}
    {%- endfor -%}
    select *
    from (values
        {{ rows | join(',\n        ') if rows else "('', false, false, false, false)" }}
    ) as counts (
        measure_name, is_of_people, is_over_children, is_about_supported, is_of_groups
    )
{% endmacro %}


{# Whether a row of measures holds anything that could be read off: a value, or counts. #}
{% macro holds_figure(row) -%}
    ({{ row }}.value is not null or coalesce({{ row }}.denominator_count, 0) > 0)
{%- endmacro %}
