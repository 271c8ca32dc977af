{# What k parallel looks are worth when one has reliability r: k r / (1 + (k - 1) r).

   Spearman (1910), Brown (1910). One look .40: four give .73. k may be a fraction; null where the
   divisor is 0.
#}
{% macro spearman_brown(r, k) -%}
    (1.0 * ({{ k }}) * ({{ r }}) / nullif(1.0 + (({{ k }}) - 1.0) * ({{ r }}), 0.0))
{%- endmacro %}


{# How many looks reach a target, as a fraction: .30 needs 9.33 looks for .80, so ten.

   Null when one look is worth nothing (r 0 or less), or the target is 1 or more.
#}
{% macro spearman_brown_needed(r, target) -%}
    case
        when ({{ r }}) > 0.0 and ({{ target }}) < 1.0
            then 1.0 * ({{ target }}) * (1.0 - ({{ r }})) / (({{ r }}) * (1.0 - ({{ target }})))
    end
{%- endmacro %}
