{# Degrees of freedom from which a spread pooled over classes is trusted: t is then within 15 % of
   the normal quantile. #}
{% macro pooled_df_needed() %}10{% endmacro %}
