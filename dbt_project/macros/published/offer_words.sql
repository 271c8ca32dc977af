{# Why a line is silent, from its figures on the review day. #}
{% macro silence_reason() -%}
    case
        when not is_planned then 'no_plan'
        when not is_readable and has_held then 'measure_held'
        when not is_readable then 'thin'
        when shows_it and is_review then 'by_chance'
        when shows_it then 'next_review'
        when sign_count > 0 then 'one_sign'
        when sureness in ('met', 'likely_met') then 'met'
        else 'unclear'
    end
{%- endmacro %}


{# The signs that speak, joined by `;`. #}
{% macro sign_codes() -%}
    nullif(
        concat_ws(
            ';',
            case when is_below then 'below_line' end,
            case when other_below_count > 0 then 'second_side' end,
            case when is_below and is_down then 'down_on_last_term' end,
            case when is_below and is_lasting then 'lasting' end
        ),
        ''
    )
{%- endmacro %}


{# One line at one review, after its keys: the same for the team and for the class's own teacher. #}
{% macro review_columns() -%}
    routine_id,
    term_id,
    review_on,
    cast(review_number as bigint) as review_number,
    team_sees_from_on,
    measure_name,
    review_state,
    why_not,
    reason_codes,
    sureness,
    session_count,
    day_count,
    under_session_count,
    value,
    upper_one_sided,
    p_value,
    adjusted_p,
    cast(tested_count as bigint) as tested_count,
    opened_on,
    review_count,
    since_session_count,
    since_value
{%- endmacro %}
