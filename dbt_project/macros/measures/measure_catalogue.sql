{# What the YAML beside each measure model says, as rows.

   `config.meta.measure` must have every key of `texts`; the others have the defaults below. A count
   may be a number or the name of a threshold. `range_note` says in words how a range of kind `own`
   is made.
#}
{% macro measure_catalogue() %}
    {%- set texts = ['title', 'question', 'numerator', 'denominator', 'unit', 'minimum_data',
        'cannot_say', 'source', 'shape', 'interval_kind', 'sense'] -%}
    {%- set counts = ['usable_sessions', 'usable_units', 'solid_sessions', 'solid_units'] -%}
    {%- set rows = [] -%}
    {%- for model in var('measure_models') if execute -%}
        {%- set node = graph.nodes.values() | selectattr('name', 'equalto', model) | first -%}
        {%- set meta = node.config.meta.measure -%}
        {%- set cells = ["'" ~ measure_name_of(model) ~ "'"] -%}
        {%- for key in texts -%}
            {%- if key not in meta -%}
                {%- set fault = model ~ ': meta.measure.' ~ key ~ ' is missing' -%}
                {{ exceptions.raise_compiler_error(fault) }}
            {%- endif -%}
            {%- do cells.append("'" ~ (meta[key] | replace("'", "''")) ~ "'") -%}
        {%- endfor -%}
        {%- do cells.append("'" ~ (meta.get('range_note', '') | replace("'", "''")) ~ "'") -%}
        {%- do cells.append("'" ~ rests_on(node) ~ "'") -%}
        {%- set line = meta.get('criterion') -%}
        {%- do cells.append('cast(' ~ (threshold(line) if line else 'null') ~ ' as double)') -%}
        {%- do cells.append('true' if meta.get('is_by_routine', true) else 'false') -%}
        {%- do cells.append('true' if meta.get('has_days', false) else 'false') -%}
        {%- do cells.append("'" ~ (meta.get('levels', ['class', 'grade', 'school', 'tier'])
            | join(';')) ~ "'") -%}
        {%- for key in counts -%}
            {%- set count = meta.get(key, 1) -%}
            {%- do cells.append(
                'cast(' ~ (threshold(count) if count is string else count) ~ ' as bigint)') -%}
        {%- endfor -%}
        {%- do rows.append('(' ~ cells | join(', ') ~ ')') -%}
    {%- endfor -%}
    select *
    from (values
        {{ rows | join(',\n        ') if rows else empty_catalogue_row(texts | length) }}
    ) as catalogue (
        measure_name, {{ texts | join(', ') }}, range_note, rests_on, criterion, is_by_routine,
        has_days, level_codes, {{ counts | join(', ') }}
    )
{% endmacro %}


{% macro measure_name_of(model) -%}
    {{- model | replace('int_measure_', '') | replace('int_finished_', '') -}}
{%- endmacro %}


{# What a measure is made of, told by the folder of the models it reads: visits, draws, support,
   lessons or children. One that reads only figures of others rests on visits. #}
{% macro rests_on(node) -%}
    {%- set folders = [] -%}
    {%- for parent in node.depends_on.nodes if parent in graph.nodes -%}
        {%- do folders.append(graph.nodes[parent].fqn[-2]) -%}
    {%- endfor -%}
    {%- set kinds = {'observations': 'visits', 'observers': 'visits', 'fidelity': 'visits',
        'turns': 'draws', 'equity': 'draws', 'supports': 'support', 'plan': 'lessons',
        'lessons': 'lessons', 'roster': 'children'} -%}
    {%- set found = [] -%}
    {%- for folder in kinds if folder in folders -%}
        {%- do found.append(kinds[folder]) -%}
    {%- endfor -%}
    {{- found[0] if found else 'visits' -}}
{%- endmacro %}


{# While dbt only reads the project there is no graph yet. #}
{% macro empty_catalogue_row(text_count) -%}
    ('', {% for _ in range(text_count + 2) %}'', {% endfor %}null, false, false, '', 1, 1, 1, 1)
{%- endmacro %}
