{# Measures of a visit that are followed from visit to visit: shares of what was looked at. #}
{% macro series_measures() %}
    {{- return(['responsiveness', 'adherence', 'voice_match', 'quality']) -}}
{% endmacro %}
