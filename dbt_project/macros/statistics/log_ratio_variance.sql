{# Variance of the logarithm of a ratio of two sums over people: R = sum t / sum e.

   people               how many people
   turns, chances       sum of t, sum of e
   turn_squares         sum of t t
   products             sum of t e
   chance_squares       sum of e e
   Null for fewer than two people or without turns or chances; 0 where t is the same part of e for
   all. Formula: n / (n - 1) sum (t - R e)^2 / (sum t)^2, the linearised variance of a ratio
   estimate (Cochran 1977, sections 2.11 and 6.4; from memory). The difference of two such
   logarithms has the sum of the variances.
   Worked example: turns 2, 1, 3 of chances 2, 2, 2: R = 1, 3 / 2 x 2 / 36 = 0.0833.
#}
{% macro log_ratio_variance(people, turns, chances, turn_squares, products, chance_squares) -%}
    case
        when {{ people }} > 1 and {{ turns }} > 0 and {{ chances }} > 0 then
            {{ people }} * 1.0 / ({{ people }} - 1)
            * greatest(
                0.0,
                {{ turn_squares }}
                - 2.0 * {{ turns }} / {{ chances }} * {{ products }}
                + {{ turns }} * {{ turns }} * 1.0 / ({{ chances }} * {{ chances }})
                * {{ chance_squares }}
            ) / ({{ turns }} * {{ turns }})
    end
{%- endmacro %}
