{# Rows of a visit of the given types and codes. #}
{% macro count_rows(row_types, codes) -%}
    count(*) filter (
        where observed.row_type in ('{{ row_types | join("', '") }}')
        and observed.code in ('{{ codes | join("', '") }}')
    )
{%- endmacro %}


{# Voice readings that can be compared and fulfil a condition. #}
{% macro count_voices(condition) -%}
    count(*) filter (
        where observed.row_type = 'voice'
        and observed.value is not null
        and sessions.expected_voice_level is not null
        and {{ condition }}
    )
{%- endmacro %}
