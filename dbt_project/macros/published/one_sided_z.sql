{# Normal quantile of the one-sided level that counts as "beyond what visits vary by". #}
{% macro one_sided_z() %}{{ normal_quantile(threshold('upper_level')) }}{% endmacro %}
