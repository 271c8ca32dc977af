{#
    The measure row as it leaves the warehouse: rounded to nine places, cast to the contract, and
    empty where a reason says so. `reason` is the SQL text of the reason, null when all is shown.
    `row` is the CTE that the columns come from, none where there is only one. `people` is SQL, true
   where the measure counts people: then its occasions may be people too, and how much there is to
   say would tell how many; both go with the figure.
#}
{% macro published_row(row, reason, people='false') %}
    {%- set of = row ~ '.' if row else '' %}
    {%- for figure in ['value', 'numerator_count', 'denominator_count'] %}
    case when {{ reason }} is null then round(cast({{ of }}{{ figure }} as double), 9) end
        as {{ figure }},
    {%- endfor %}
    case
        when {{ reason }} is null then round(cast({{ of }}low as double), 9)
        when {{ reason }} = 'end_coarsened'
            then round({{ coarse_low(of ~ 'numerator_count', of ~ 'denominator_count') }}, 9)
    end as low,
    case
        when {{ reason }} is null then round(cast({{ of }}high as double), 9)
        when {{ reason }} = 'end_coarsened'
            then round({{ coarse_high(of ~ 'numerator_count', of ~ 'denominator_count') }}, 9)
    end as high,
    case
        when {{ reason }} is null or not {{ people }}
            then cast(coalesce({{ of }}session_count, 0) as bigint)
    end as session_count,
    case when {{ reason }} is null then cast({{ of }}unit_count as bigint) end as unit_count,
    case when {{ reason }} is null or not {{ people }} then {{ of }}sufficiency else 'none' end
        as sufficiency,
    case when {{ reason }} is null then {{ of }}status else 'none' end as status
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


{# The instant of the build, UTC: the argument may carry an offset. #}
{% macro built_at() -%}
    cast(timezone('UTC', cast('{{ var("built_at") }}' as timestamp with time zone)) as timestamp)
{%- endmacro %}
