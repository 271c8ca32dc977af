{# Range of a difference of two independent figures from the range of each: a scalar.

   newer, newer_low, newer_high   the figure and its range at the level wanted
   older, older_low, older_high   the one it is compared with, its range at the same level
   Null when any of them is null. With Wilson ranges it is Newcombe's (1998) method 10; with others
   Zou & Donner (2008), "method of variance estimates recovery" (from memory).
#}
{% macro mover_low(newer, newer_low, older, older_high) -%}
    (
        {{ newer }} - {{ older }}
        - sqrt(power({{ newer }} - {{ newer_low }}, 2) + power({{ older_high }} - {{ older }}, 2))
    )
{%- endmacro %}


{% macro mover_high(newer, newer_high, older, older_low) -%}
    (
        {{ newer }} - {{ older }}
        + sqrt(power({{ newer_high }} - {{ newer }}, 2) + power({{ older }} - {{ older_low }}, 2))
    )
{%- endmacro %}


{# Half the width of Welch's range of a difference of two means from their standard errors.

   se_one, se_other   standard errors; df_one, df_other: their degrees of freedom, 1 or more
   level              two-sided level, a number
   Null when any is null or both standard errors are 0. Welch (1947), Satterthwaite (1946) (memory).
#}
{% macro welch_margin(se_one, df_one, se_other, df_other, level) -%}
    (
        sqrt(power({{ se_one }}, 2) + power({{ se_other }}, 2))
        * {{ let_in(
            'w_df',
            welch_df(se_one, df_one, se_other, df_other),
            t_quantile('1.0 - (1.0 - ' ~ level ~ ') / 2.0', 'w_df')
        ) }}
    )
{%- endmacro %}


{% macro welch_df(se_one, df_one, se_other, df_other) -%}
    (
        power(power({{ se_one }}, 2) + power({{ se_other }}, 2), 2)
        / nullif(
            power({{ se_one }}, 4) / {{ df_one }} + power({{ se_other }}, 4) / {{ df_other }}, 0.0
        )
    )
{%- endmacro %}
