{# Limits of a funnel: where figures of units of this size lie when only chance sets them apart.

   target   the figure that all units would have; trials: the size of the unit
   p        the share of units below the limit: 0.025 and 0.975 for a funnel of 95 %
   funnel_binomial   of a share, from the binomial distribution, interpolated between whole counts
                     (Spiegelhalter 2005, appendix A.1); 0 to 1; null when nothing was looked at
   funnel_normal     from a standard error, which may be widened: the units' own spread `tau2` is
                     added to its square (Spiegelhalter 2005, random effects), or its square is
                     multiplied by `phi` (the same paper, overdispersion); give 1 and 0 for neither
#}
{% macro funnel_binomial(target, trials, p) -%}
    {%- set is_below = binomial_at_most('floor(f_r)', '(' ~ trials ~ ')', target) ~ ' <= ' ~ p -%}
    {%- set rank = turning_point('f_r', '0.0', '1.0 + (' ~ trials ~ ')', is_below) -%}
    {%- set body -%}
        least(1.0, greatest(0.0, (f_k - ({{ binomial_at_most('f_k', trials, target) }} - {{ p }})
        / nullif({{ binomial_probability('f_k', trials, target) }}, 0.0)) / ({{ trials }})))
    {%- endset -%}
    case
        when {{ trials }} > 0 and {{ target }} is not null
            then {{ let_in('f_k', 'floor(' ~ rank ~ ' + 1e-6)', body) }}
    end
{%- endmacro %}


{% macro funnel_normal(target, error, p, phi='1.0', tau2='0.0') -%}
    (({{ target }}) + {{ normal_quantile(p) }}
    * sqrt(({{ phi }}) * ({{ error }}) * ({{ error }}) + ({{ tau2 }})))
{%- endmacro %}
