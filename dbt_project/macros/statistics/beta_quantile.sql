{# Quantile of the beta distribution: the x with the share p below it.

   p     0 < p < 1, an expression; null outside
   a, b  the shapes, above 0; null otherwise
   Error (measured, p from 1e-10 to 1 - 1e-10): below 2e-13 for shapes of 0.1 to 2, 2e-14 for 0.5
   to 50, 1e-13 to 2,000, 1e-12 to 1e5.
   Newton steps on the logarithm of the nearer tail over ln (x / (1 - x)), which is concave, so that
   they cannot run away; from the normal quantile at the mean and spread of that logarithm.
#}
{% macro beta_quantile(p, a, b) -%}
    (1.0 / (1.0 + exp(-({{ beta_logit_quantile(p, a, b) }}))))
{%- endmacro %}


{# ln (x / (1 - x)) of that quantile. Above one half the question is asked from the other end. #}
{% macro beta_logit_quantile(p, a, b) -%}
    {%- set turned = record({
        'sign': 'case when i_p.p <= 0.5 then 1.0 else -1.0 end',
        'p': 'least(i_p.p, 1.0 - i_p.p)',
        'a': 'case when i_p.p <= 0.5 then i_p.a else i_p.b end',
        'b': 'case when i_p.p <= 0.5 then i_p.b else i_p.a end',
    }) -%}
    {%- set body -%}
        case
            when i_t.p > 0.0 and i_t.a > 0.0 and i_t.b > 0.0
                then i_t.sign * {{ iterate('i_u', beta_start('i_t.p', 'i_t.a', 'i_t.b'), 12,
                    beta_quantile_step()) }}
        end
    {%- endset -%}
    {{ let_in('i_t', let_in('i_p', record({'p': p, 'a': a, 'b': b}), turned), body) }}
{%- endmacro %}


{# The normal quantile at about the mean and spread of ln (x / (1 - x)). #}
{% macro beta_start(p, a, b) -%}
    (ln({{ a }} + 0.5) - 1.0 / {{ a }} - ln({{ b }} + 0.5) + 1.0 / {{ b }}
    + {{ normal_quantile(p) }} * sqrt(
        1.0 / ({{ a }} * {{ a }}) + 1.0 / ({{ a }} + 0.5)
        + 1.0 / ({{ b }} * {{ b }}) + 1.0 / ({{ b }} + 0.5)
    ))
{%- endmacro %}


{# One step: i_h.f is the logarithm of the factor in front, i_h.r the nearer tail over it. #}
{% macro beta_quantile_step() -%}
    {%- set is_near = 'i_g.x * (i_g.a + i_g.b + 2.0) <= i_g.a + 1.0' -%}
    {%- set at = record({
        'x': '1.0 / (1.0 + exp(-i_u))', 'y': '1.0 / (1.0 + exp(i_u))',
        'a': 'i_t.a', 'b': 'i_t.b',
    }) -%}
    {%- set near = record({
        'a': either('a', 'b', is_near), 'b': either('b', 'a', is_near),
        'x': either('x', 'y', is_near), 'y': either('y', 'x', is_near),
        'is_near': 'case when ' ~ is_near ~ ' then 1.0 else 0.0 end',
    }) -%}
    {%- set parts = let_in('i_q', let_in('i_g', at, near), record({
        'f': beta_log_front('i_q'), 'r': beta_over_front('i_q'), 'is_near': 'i_q.is_near',
    })) -%}
    {%- set wanted = 'case when i_h.is_near = 1.0 then i_h.r else exp(-i_h.f) - i_h.r end' -%}
    {{ let_in('i_h', parts, let_in('i_r', wanted,
        'least(700.0, greatest(-700.0, i_u + (ln(i_t.p) - i_h.f - ln(i_r)) * i_r))')) }}
{%- endmacro %}
