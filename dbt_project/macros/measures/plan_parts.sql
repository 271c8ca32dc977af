{# A lesson given, as a part that adds to the numerator only. #}
{% macro lesson_part(relation, numerator) -%}
    {{ relation }}.school_id,
    {{ relation }}.class_id,
    {{ relation }}.routine_id,
    {{ relation }}.tier_code,
    {{ relation }}.taught_on as event_on,
    false as is_substitute,
    false as is_thin,
    0 as session_count,
    0.0 as unit_count,
    {{ numerator }} as numerator,
    {{ numerator }} as numerator_high,
    0.0 as denominator,
    cast(null as double) as score
{%- endmacro %}


{# A planned lesson that was due, as a part that adds to the denominator; when nobody wrote
   anything, the upper end takes it as given. #}
{% macro slot_part(relation, denominator) -%}
    {{ relation }}.school_id,
    {{ relation }}.class_id,
    {{ relation }}.routine_id,
    {{ relation }}.tier_code,
    {{ relation }}.due_on as event_on,
    false as is_substitute,
    false as is_thin,
    1 as session_count,
    1.0 as unit_count,
    0.0 as numerator,
    case when {{ relation }}.status = 'not_logged' then {{ denominator }} else 0.0 end
        as numerator_high,
    {{ denominator }} as denominator,
    cast(null as double) as score
{%- endmacro %}


{# What was given and what was due as parts: the CTE `lessons`, as far as its keys stand in
   `planned`, beside the CTE `slots`. `given` and `due` are what one of each counts.
#}
{% macro dose_parts(planned, keys, given, due) -%}
    select
        {{ lesson_part('lessons', numerator=given) }}
    from lessons
    inner join {{ planned }} on {{ same_keys('lessons', planned, keys) }}
    union all
    select
        {{ slot_part('slots', denominator=due) }}
    from slots
{%- endmacro %}


{# A row of any relation as a part of a share of counts. #}
{% macro share_part(
    event_on, numerator, denominator,
    numerator_high=none, units='1.0', routine_id='routine_id', tier_code='tier_code'
) -%}
    school_id,
    class_id,
    {{ routine_id }} as routine_id,
    {{ tier_code }} as tier_code,
    {{ event_on }} as event_on,
    false as is_substitute,
    false as is_thin,
    1 as session_count,
    cast({{ units }} as double) as unit_count,
    cast({{ numerator }} as double) as numerator,
    cast({{ numerator_high or numerator }} as double) as numerator_high,
    cast({{ denominator }} as double) as denominator,
    cast(null as double) as score
{%- endmacro %}
