{# On which side of a line a figure lies, to nine places.

   value, line   expressions of the same unit; null in, null out
   A sum of fractions differs in its last digits with the order it was added in, and a figure that
   lies on the line must not change its word from build to build. On the line counts as reached.
#}
{% macro reaches(value, line) %}round({{ value }}, 9) >= round({{ line }}, 9){% endmacro %}


{% macro falls_short(value, line) %}round({{ value }}, 9) < round({{ line }}, 9){% endmacro %}
