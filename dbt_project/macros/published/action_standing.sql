{# How a decision of the team stands on the as-of day.

   decision   its row of fct_offer_decisions; seen: what was seen since, with its value and visits
   past       another decision came after it, or it has run its course
   under_way, waiting, resting, ended   offered, waited, declined, closed
   due        the day to come back to it has come
#}
{% macro action_standing(decision, seen) -%}
    case
        when not {{ decision }}.is_last then 'past'
        when {{ decision }}.decision_code = 'close'
            then case
                when {{ as_of_on() }} < {{ decision }}.decided_on
                    + interval {{ threshold('offer_rest_days') }} day
                    then 'ended'
                else 'past'
            end
        when {{ decision }}.decision_code = 'decline'
            then case when {{ rests(decision, seen) }} then 'resting' else 'past' end
        when {{ decision }}.follow_up_on <= {{ as_of_on() }} then 'due'
        when {{ decision }}.decision_code = 'wait' then 'waiting'
        else 'under_way'
    end
{%- endmacro %}


{# A declined offer rests for a time, unless as many new visits are under the line on average. #}
{% macro rests(decision, seen) -%}
    (
        {{ as_of_on() }} < {{ decision }}.decided_on
            + interval {{ threshold('offer_rest_days') }} day
        and not coalesce(
            {{ seen }}.later_session_count >= {{ threshold('offer_rest_visits') }}
            and {{ falls_short(seen ~ '.later_value', threshold('criterion')) }},
            false
        )
    )
{%- endmacro %}
