{# Pooling of one class's score towards the school's, normal on normal (Efron & Morris 1975).

   estimate, variance   the class's own mean and its sampling variance
   prior, spread        the school's mean and the variance between classes
   A class score .66 from two visits (s .115), school .80, tau .06: weight .35, pooled .751.
#}
{% macro shrink_weight(variance, spread) -%}
    ({{ spread }} / nullif({{ spread }} + {{ variance }}, 0.0))
{%- endmacro %}


{% macro shrink_estimate(estimate, variance, prior, spread) -%}
    ({{ prior }} + {{ shrink_weight(variance, spread) }} * ({{ estimate }} - {{ prior }}))
{%- endmacro %}


{% macro shrink_sd(variance, spread) -%}
    sqrt({{ shrink_weight(variance, spread) }} * {{ variance }})
{%- endmacro %}
