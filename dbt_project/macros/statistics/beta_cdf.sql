{# Beta distribution: the share below x, which is the regularised incomplete beta function.

   x     an expression; 0 at and below 0, 1 at and above 1
   a, b  the shapes, above 0; null otherwise
   Error (measured): below 4e-14 for shapes up to 30, 4e-13 to 1,000, 3e-12 to 1e4, 3e-10 to 1e6;
   lower tails below 3e-13 of the value for shapes up to 60.
   The continued fraction of DLMF 8.17.22 from the side where it converges fast, as many steps as
   the shapes need (no more than 10,000: shapes up to 1e7); the factor in front in the form that
   does not overflow. DiDonato & Morris (1992) discuss both (from memory; checked against scipy).
#}
{% macro beta_cdf(x, a, b) -%}
    {{ beta_share(x, '1.0 - (' ~ x ~ ')', a, b) }}
{%- endmacro %}


{# The same where y = 1 - x is known more exactly than x says. #}
{% macro beta_share(x, y, a, b) -%}
    {{ let_in('i_g', record({'x': x, 'y': y, 'a': a, 'b': b}), beta_share_body()) }}
{%- endmacro %}


{# i_q is the same question asked from the near side: x and y, a and b change places. #}
{% macro beta_share_body() -%}
    {%- set is_near = 'i_g.x * (i_g.a + i_g.b + 2.0) <= i_g.a + 1.0' -%}
    {%- set near = record({
        'a': either('a', 'b', is_near), 'b': either('b', 'a', is_near),
        'x': either('x', 'y', is_near), 'y': either('y', 'x', is_near),
    }) -%}
    {%- set tail = let_in('i_q', near,
        'exp(' ~ beta_log_front('i_q') ~ ') * ' ~ beta_over_front('i_q')) -%}
    case
        when not (i_g.a > 0.0 and i_g.b > 0.0) then null
        when i_g.x <= 0.0 then 0.0
        when i_g.y <= 0.0 then 1.0
        when {{ is_near }} then {{ tail }}
        else 1.0 - {{ tail }}
    end
{%- endmacro %}


{% macro either(name, other, condition) -%}
    case when {{ condition }} then i_g.{{ name }} else i_g.{{ other }} end
{%- endmacro %}


{# Logarithm of x^a y^b / B(a, b), for a record with those fields. #}
{% macro beta_log_front(r) -%}
    ({{ r }}.a * ln({{ r }}.x * ({{ r }}.a + {{ r }}.b) / {{ r }}.a)
    + {{ r }}.b * ln({{ r }}.y * ({{ r }}.a + {{ r }}.b) / {{ r }}.b)
    + 0.5 * ln({{ r }}.a / (2.0 * pi() * (1.0 + {{ r }}.a / {{ r }}.b)))
    + {{ sum_over('b_z', [r ~ '.a + ' ~ r ~ '.b', '-' ~ r ~ '.a', '-' ~ r ~ '.b'],
        'sign(b_z) * (' ~ stirling_rest('abs(b_z)') ~ ')') }})
{%- endmacro %}


{# The share below x over that factor: a continued fraction, worked out from its far end. #}
{% macro beta_over_front(r) -%}
    {%- set step -%}
        1.0 + b_k * ({{ r }}.b - b_k) * {{ r }}.x
        / (({{ r }}.a + 2.0 * b_k - 1.0) * ({{ r }}.a + 2.0 * b_k))
        / (1.0 - ({{ r }}.a + b_k) * ({{ r }}.a + {{ r }}.b + b_k) * {{ r }}.x
        / (({{ r }}.a + 2.0 * b_k) * ({{ r }}.a + 2.0 * b_k + 1.0)) / b_f)
    {%- endset -%}
    (1.0 / ({{ r }}.a * (1.0 - ({{ r }}.a + {{ r }}.b) * {{ r }}.x / ({{ r }}.a + 1.0)
    / {{ fold('b_f', 'b_k', beta_steps(r ~ '.a', r ~ '.b'), '1.0', step) }})))
{%- endmacro %}


{# How many steps the continued fraction needs: found by trying, with some to spare. #}
{% macro beta_steps(a, b) %}least(10000.0, 20.0 + 3.0 * sqrt({{ a }} + {{ b }})){% endmacro %}
