{# Half the width of a t interval of a mean over sessions: t x sd / sqrt(n).

   sd     standard deviation between sessions (n - 1 in its denominator), or a pooled one
   count  sessions in this mean
   df     degrees of freedom of `sd`: count - 1, or those of the pooled one
   level  two-sided level as a number
   Null when there is no degree of freedom.
#}
{% macro t_margin(sd, count, df, level) -%}
    case
        when {{ df }} >= 1 and {{ count }} >= 1
            then {{ t_quantile('1.0 - (1.0 - ' ~ level ~ ') / 2.0', df) }} * {{ sd }}
                / sqrt({{ count }})
    end
{%- endmacro %}


{# Variance from moments; never below zero by rounding, null below two values. #}
{% macro variance_from_sums(sum_of_values, sum_of_squares, count) -%}
    case
        when {{ count }} >= 2
            then greatest(
                0.0,
                ({{ sum_of_squares }} - {{ sum_of_values }} * {{ sum_of_values }} / {{ count }})
                / ({{ count }} - 1)
            )
    end
{%- endmacro %}
