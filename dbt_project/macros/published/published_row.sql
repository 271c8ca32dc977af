{#
    The measure row as it leaves the warehouse: rounded to nine places, cast to the contract, and
    empty where a reason says so. `reason` is the SQL text of the reason, null when all is shown.
    `row` is the prefix of the columns (a CTE name).
#}
{% macro published_row(row, reason) %}
    {%- for figure in ['value', 'numerator_count', 'denominator_count'] %}
    case when {{ reason }} is null then round(cast({{ row }}.{{ figure }} as double), 9) end
        as {{ figure }},
    {%- endfor %}
    case
        when {{ reason }} is null then round(cast({{ row }}.low as double), 9)
        when {{ reason }} = 'end_coarsened'
            then round({{ coarse_low(row ~ '.numerator_count', row ~ '.denominator_count') }}, 9)
    end as low,
    case
        when {{ reason }} is null then round(cast({{ row }}.high as double), 9)
        when {{ reason }} = 'end_coarsened'
            then round({{ coarse_high(row ~ '.numerator_count', row ~ '.denominator_count') }}, 9)
    end as high,
    cast(coalesce({{ row }}.session_count, 0) as bigint) as session_count,
    case when {{ reason }} is null then cast({{ row }}.unit_count as bigint) end as unit_count,
    {{ row }}.sufficiency,
    case when {{ reason }} is null then {{ row }}.status else 'none' end as status
{%- endmacro %}


{# The two columns that say whether and why a row is withheld. #}
{% macro withheld_columns(reason) %}
    {{ reason }} is not null as is_withheld,
    cast({{ reason }} as string) as withheld_reason
{%- endmacro %}


{# The two columns of lineage. #}
{% macro lineage_columns() %}
    {{ as_of_on() }} as as_of_on,
    '{{ var("build_id") }}' as build_id
{%- endmacro %}
