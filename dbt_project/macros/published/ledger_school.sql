{# Whose the files are: a file names no school, so they are the only school's of the workspace or,
   where it holds several, the workspace's own. A scalar; one row of dim_schools is one school. #}
{% macro ledger_school() -%}
    (
        select
            case
                when count(*) = 1 then max(schools.school_id) else '{{ var("school_id") }}'
            end
        from {{ ref('dim_schools') }} as schools
    )
{%- endmacro %}
