{# The columns of an offer after its keys: the same for the team and for the class's own teacher. #}
{% macro offer_columns(row=none) %}
    {%- set of = row ~ '.' if row else '' %}
    {{ of }}routine_id,
    {{ of }}term_id,
    {{ of }}measure_name,
    {{ of }}state_code,
    {{ of }}why_not,
    {{ of }}reason_codes,
    cast({{ of }}sign_count as bigint) as sign_count,
    round(cast({{ of }}value as double), 9) as value,
    round(cast({{ of }}numerator_count as double), 9) as numerator_count,
    round(cast({{ of }}denominator_count as double), 9) as denominator_count,
    round(cast({{ of }}low as double), 9) as low,
    round(cast({{ of }}high as double), 9) as high,
    round(cast({{ of }}high_one_sided as double), 9) as upper_one_sided,
    cast({{ of }}session_count as bigint) as session_count,
    cast({{ of }}day_count as bigint) as day_count,
    cast({{ of }}observer_count as bigint) as observer_count,
    round(cast({{ of }}previous_value as double), 9) as previous_value,
    {{ of }}previous_sufficiency,
    {{ of }}weakest_dimension,
    cast({{ threshold('criterion') }} as double) as criterion,
    {{ of }}sureness,
    {{ of }}next_step_code,
    case when {{ of }}shows_it then 'back_at_line' end as closes_when,
    {{ of }}next_review_on
{%- endmacro %}
