{#- Values come with the build; so do default and source of each, where it gives them. -#}
{%- set notes = var('threshold_notes', {}) -%}
with settings as (
    {%- for name in var('thresholds') %}
    {%- set note = notes[name] or {} %}
    select
        '{{ name }}' as setting_name,
        cast({{ threshold(name) }} as double) as value,
        cast({{ note['default'] | default('null') }} as double) as default_value,
        cast({{ sql_text(note['source_note']) }} as string) as source_note
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
),

shown as (
    select
        setting_name,
        value,
        default_value,
        source_note,
        coalesce(value = default_value, false) as is_default
    from settings
)

select * from shown
