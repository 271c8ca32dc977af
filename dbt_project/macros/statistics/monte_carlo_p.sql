{# p of an observed statistic among simulated ones, the observed counted as one of them.

   at_least      simulations whose statistic is as large or larger, ties included
   simulations   all simulations; null when 0
   Formula: (1 + at_least) / (1 + simulations): never 0, and under the null P(p <= a) <= a (Davison
   & Hinkley 1997, 4.2; from memory).
#}
{% macro monte_carlo_p(at_least, simulations) -%}
    (1.0 + {{ at_least }}) / (1.0 + nullif(cast({{ simulations }} as double), 0.0))
{%- endmacro %}


{# The same with ties, the observed one among them, split by a number drawn between 0 and 1.

   above         simulations whose statistic is larger
   ties          simulations whose statistic is the same
   uniform       the number drawn
   Even under the null also where the statistic has few values; for tests of evenness only.
#}
{% macro split_monte_carlo_p(above, ties, simulations, uniform) -%}
    ({{ above }} + {{ uniform }} * (1.0 + {{ ties }}))
    / (1.0 + nullif(cast({{ simulations }} as double), 0.0))
{%- endmacro %}


{# Whether a simulated statistic is larger than, or the same as, the observed one: sums of fractions
   come in another order, so the last digits do not count. #}
{% macro is_above(simulated, observed) -%}
    {{ simulated }} > {{ observed }} + {{ same_within(observed) }}
{%- endmacro %}


{% macro is_same(simulated, observed) -%}
    abs({{ simulated }} - {{ observed }}) <= {{ same_within(observed) }}
{%- endmacro %}


{% macro same_within(observed) %}1e-9 * (1.0 + abs({{ observed }})){% endmacro %}
