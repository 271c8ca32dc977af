{# A figure that can be negative, to nine places; what rounds to nothing is 0, never -0. #}
{% macro nine_places(figure) %}(round({{ figure }}, 9) + 0.0){% endmacro %}
