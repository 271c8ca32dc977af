{# The columns of a finished row that has no sampling range, in the order of `finished_columns`.

   The query it stands in groups by `finished_keys(relation)`; arguments are aggregates.
#}
{% macro finished_row(
    value, numerator, denominator, sessions, days, units, classes,
    low='cast(null as double)', high='cast(null as double)', tier_code="'*'"
) -%}
    school_id,
    level_code,
    class_id,
    grade_code,
    {{ tier_code }} as tier_code,
    routine_id,
    term_id,
    window_code,
    cast(null as date) as week_first_on,
    cast(null as string) as detail,
    {{ sessions }} as session_count,
    {{ days }} as day_count,
    {{ classes }} as class_count,
    0 as thin_count,
    cast({{ units }} as double) as unit_count,
    cast({{ numerator }} as double) as numerator_count,
    cast({{ denominator }} as double) as denominator_count,
    cast({{ value }} as double) as value,
    {{ low }} as low,
    {{ high }} as high,
    {{ low }} as low_one_sided,
    {{ high }} as high_one_sided
{%- endmacro %}


{# What a finished row is about. #}
{% macro finished_keys() -%}
    school_id, level_code, class_id, grade_code, routine_id, term_id, window_code
{%- endmacro %}
