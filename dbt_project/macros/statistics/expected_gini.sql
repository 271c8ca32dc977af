{# Gini of turns to be expected by luck when every card goes back at once.

   pupils   1 or more, all there all the time; null below 1
   draws    1 or more; null below 1, as the Gini of no turns is
   Formula: (N - 1) / (2 K) x E|T1 - T2|. T1 - T2 after K draws is a walk whose step is +1 or -1
   with chance 1/N each, so E|T1 - T2| is the mean over a circle of (1 - f^K) / (1 - cos), where
   f = 1 - 2/N (1 - cos). 64 points on the circle are exact below 64 draws and within 1e-8 up to 60
   draws a pupil; above, the normal approximation with its two first corrections, relative error
   below 3e-6 (three in a thousand for two pupils). Own derivation; N = 22, K = 22 gives .50.
#}
{% macro expected_gini(pupils, draws) -%}
    {%- set n = 'cast(' ~ pupils ~ ' as double)' -%}
    {%- set k = 'cast(' ~ draws ~ ' as double)' -%}
    case
        when {{ pupils }} >= 1 and {{ draws }} >= 1 then
            ({{ n }} - 1.0) / (2.0 * {{ k }}) * case
                when {{ k }} <= 60.0 * {{ n }} then {{ gap_on_circle(n, k) }}
                else {{ gap_of_many(n, k) }}
            end
    end
{%- endmacro %}


{# Points at angle 0 (whose limit is 2 K / N), pi, and 31 that count twice. #}
{% macro gap_on_circle(n, k) -%}
    (
        2.0 * {{ k }} / {{ n }}
        + {{ circle_point(n, k, '2.0') }}
        {%- for point in range(1, 32) %}
        + 2.0 * {{ circle_point(n, k, '(1.0 - cos(pi() * ' ~ point ~ '.0 / 32.0))') }}
        {%- endfor %}
    ) / 64.0
{%- endmacro %}


{% macro circle_point(n, k, fall) -%}
    (1.0 - power(1.0 - 2.0 / {{ n }} * {{ fall }}, {{ k }})) / {{ fall }}
{%- endmacro %}


{# sd sqrt(2 / pi), less the kurtosis of the walk / 24 and 1 / (12 variance) for its whole steps. #}
{% macro gap_of_many(n, k) -%}
    (
        sqrt(4.0 * {{ k }} / ({{ n }} * pi()))
        * (
            1.0 - (2.0 * {{ n }} - 12.0) / (96.0 * {{ k }})
            - {{ n }} / (24.0 * {{ k }})
        )
    )
{%- endmacro %}


{# Gini when names are drawn in rounds, each once before a second turn, everyone being there: exact.

   With K = a N + b draws, b pupils have a + 1 turns and the others a: b (N - b) / (N K).
#}
{% macro expected_gini_in_rounds(pupils, draws) -%}
    {%- set ahead = '(' ~ draws ~ ' % ' ~ pupils ~ ')' -%}
    case
        when {{ pupils }} >= 1 and {{ draws }} >= 1 then
            {{ ahead }} * cast({{ pupils }} - {{ ahead }} as double)
            / (cast({{ pupils }} as double) * cast({{ draws }} as double))
    end
{%- endmacro %}
