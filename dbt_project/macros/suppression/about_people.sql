{# Measures whose two counts are people, so that either end of the share may be a small cell. #}
{% macro counts_people(measure_name) -%}
    {{ measure_name }} in ('turn_coverage', 'tier_share')
{%- endmacro %}


{# Measures about the few children with a plan of their own: a class or a grade is too small. #}
{% macro is_about_supported(measure_name) -%}
    {{ measure_name }} in ('support_delivery', 'support_steps')
{%- endmacro %}


{# Measures whose lower count is the children of a class: it gives the size of the class away. #}
{% macro is_over_children(measure_name) -%}
    {{ measure_name }} in ('turn_coverage', 'turn_evenness', 'turn_longest_wait', 'tier_share')
{%- endmacro %}
