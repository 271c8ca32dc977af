{#
    Measures that may speak for an offer, in the order in which one leads when several do.
    Shares of one visit's looks or steps: they have a range over visits and our line applies.
    Data matters (missing logs, thin) never speak for an offer; they are in the turn checks,
    in mart_completeness and in `why_not`.
#}
{% macro offer_measures() %}
    {{- return(['responsiveness', 'adherence', 'voice_match']) -}}
{% endmacro %}


{# The session score that belongs to a measure of an offer. #}
{% macro session_score(measure_name, row) -%}
    case {{ measure_name }}
        when 'responsiveness' then {{ row }}.responsiveness_rate
        when 'adherence' then {{ row }}.adherence_rate
        when 'voice_match' then {{ row }}.voice_match_rate
    end
{%- endmacro %}
