{# One part a visit for a measure that is scored visit by visit.

   relation     CTE with the rows of int_observation_sessions
   numerator, denominator   expressions on it; a visit with a denominator of 0 is left out
   units        looks, steps or readings behind the score (default: the denominator)
   is_thin      condition under which too little of the visit was seen
   Two observers of a pair become their mean, so that they never count twice.
#}
{% macro parts_per_visit(relation, numerator, denominator, units=none, is_thin='false') -%}
    select
        school_id,
        class_id,
        min(routine_id) as routine_id,
        min(tier_code) as tier_code,
        min(observed_on) as event_on,
        bool_or(is_substitute) as is_substitute,
        bool_and({{ is_thin }}) as is_thin,
        1 as session_count,
        avg(cast({{ units or denominator }} as double)) as unit_count,
        avg(cast({{ numerator }} as double)) as numerator,
        avg(cast({{ numerator }} as double)) as numerator_high,
        avg(cast({{ denominator }} as double)) as denominator,
        avg(cast({{ numerator }} as double) / ({{ denominator }})) as score
    from {{ relation }}
    where is_counted and ({{ denominator }}) > 0
    group by school_id, class_id, visit_id
{%- endmacro %}
