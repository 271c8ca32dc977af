{#
    Measures that may speak for an offer, in the order in which one leads: settled before anybody
    looks at a figure, so that the one that leads is not the one that happens to be lowest.
    Shares of one visit's looks or steps: they have a range over visits and our line applies.
    Data matters (missing logs, thin) never speak for an offer: see fct_data_offers.
#}
{% macro offer_measures() %}
    {{- return(['responsiveness', 'adherence', 'voice_match']) -}}
{% endmacro %}


{# The place of a measure in that order; for a voice routine the match of voices comes first. #}
{% macro offer_lead_order(measure_name, kind) -%}
    case
        when {{ kind }} = 'voice' and {{ measure_name }} = 'voice_match' then cast(0 as bigint)
        {%- for name in offer_measures() %}
        when {{ measure_name }} = '{{ name }}' then cast({{ loop.index }} as bigint)
        {%- endfor %}
    end
{%- endmacro %}
