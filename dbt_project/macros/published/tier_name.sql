{# The three tiers in words. #}
{% macro tier_name(tier_code) -%}
    case {{ tier_code }}
        when '1' then 'All pupils'
        when '2' then 'Groups'
        when '3' then 'Individual'
        else 'Tier ' || {{ tier_code }}
    end
{%- endmacro %}
