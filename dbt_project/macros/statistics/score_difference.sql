{# Difference of two independent shares by inverting a score test, first minus second.

   x1, n1, x2, n2   successes and trials; null when nothing was looked at on one side
   level            two-sided level as a number
   mee_*                  Mee (1984)
   miettinen_nurminen_*   Miettinen & Nurminen (1985): its variance is larger by N / (N - 1)
   agresti_caffo_*        Agresti & Caffo (2000): one success and one failure added to each side
   The shares under a supposed difference d solve a cubic equation whose middle root is meant
   (Farrington & Manning 1990; from memory, checked against a direct search for the likelihood's
   peak); the limit is found by halving to 2^-52.
#}
{% macro mee_low(x1, n1, x2, n2, level) -%}
    {{ score_difference_low(x1, n1, x2, n2, level, '1.0') }}
{%- endmacro %}


{# The upper limit is minus the lower limit of the difference the other way round. #}
{% macro mee_high(x1, n1, x2, n2, level) -%}
    (-{{ score_difference_low(x2, n2, x1, n1, level, '1.0') }})
{%- endmacro %}


{% macro miettinen_nurminen_low(x1, n1, x2, n2, level) -%}
    {{ score_difference_low(x1, n1, x2, n2, level, larger_by(n1, n2)) }}
{%- endmacro %}


{% macro miettinen_nurminen_high(x1, n1, x2, n2, level) -%}
    (-{{ score_difference_low(x2, n2, x1, n1, level, larger_by(n1, n2)) }})
{%- endmacro %}


{% macro larger_by(n1, n2) -%}
    (cast(({{ n1 }}) + ({{ n2 }}) as double) / nullif(({{ n1 }}) + ({{ n2 }}) - 1, 0))
{%- endmacro %}


{% macro score_difference_low(x1, n1, x2, n2, level, factor) -%}
    {%- set given = record({
        'x1': x1, 'n1': n1, 'x2': x2, 'n2': n2, 'n': '(' ~ n1 ~ ') + (' ~ n2 ~ ')',
        'q': factor ~ ' * power(' ~ two_sided_z(level) ~ ', 2)',
    }) -%}
    {%- set is_below -%}
        s_g.x1 / s_g.n1 - s_g.x2 / s_g.n2 - s_d > sqrt(s_g.q * ({{ variance_under('s_d') }}))
    {%- endset -%}
    {%- set body -%}
        case
            when s_g.n1 > 0.0 and s_g.n2 > 0.0 and s_g.q is not null
                then {{ turning_point('s_d', '-1.0', '1.0', is_below) }}
        end
    {%- endset -%}
    {{ let_in('s_g', given, body) }}
{%- endmacro %}


{# Variance of the difference when it is d: the second share is likeliest at p, the first at p + d.

   c, b, a: coefficients of the cubic over that of p^3; turned into its three-angle form.
#}
{% macro variance_under(d) -%}
    {%- set coefficients = record({
        'a': '((s_g.n1 + 2.0 * s_g.n2) * ' ~ d ~ ' - s_g.n - s_g.x1 - s_g.x2) / s_g.n',
        'b': '((s_g.n2 * ' ~ d ~ ' - s_g.n - 2.0 * s_g.x2) * ' ~ d
            ~ ' + s_g.x1 + s_g.x2) / s_g.n',
        'c': 's_g.x2 * ' ~ d ~ ' * (1.0 - ' ~ d ~ ') / s_g.n',
    }) -%}
    {%- set form = record({
        'half': 'power(s_c.a / 3.0, 3) - s_c.a * s_c.b / 6.0 + s_c.c / 2.0',
        'width': 'sqrt(greatest(0.0, power(s_c.a / 3.0, 2) - s_c.b / 3.0))',
        'centre': '-s_c.a / 3.0',
    }) -%}
    {%- set likeliest -%}
        s_f.centre + case when s_f.half < 0.0 then -2.0 else 2.0 end * s_f.width * cos((
            pi() + acos(greatest(-1.0, least(1.0,
            coalesce(abs(s_f.half) / nullif(power(s_f.width, 3), 0.0), 0.0))))
        ) / 3.0)
    {%- endset -%}
    {%- set share = let_in('s_f', let_in('s_c', coefficients, form), likeliest) -%}
    {%- set variance -%}
        greatest(0.0, (s_p + {{ d }}) * (1.0 - s_p - {{ d }})) / s_g.n1
        + greatest(0.0, s_p * (1.0 - s_p)) / s_g.n2
    {%- endset -%}
    {{ let_in('s_p', share, variance) }}
{%- endmacro %}


{% macro agresti_caffo_low(x1, n1, x2, n2, level) -%}
    {{ agresti_caffo_limit(x1, n1, x2, n2, level, '-') }}
{%- endmacro %}


{% macro agresti_caffo_high(x1, n1, x2, n2, level) -%}
    {{ agresti_caffo_limit(x1, n1, x2, n2, level, '+') }}
{%- endmacro %}


{% macro agresti_caffo_limit(x1, n1, x2, n2, level, sign) -%}
    {%- set shares = record({
        'p1': '((' ~ x1 ~ ') + 1.0) / ((' ~ n1 ~ ') + 2.0)',
        'p2': '((' ~ x2 ~ ') + 1.0) / ((' ~ n2 ~ ') + 2.0)',
    }) -%}
    {%- set body -%}
        w_s.p1 - w_s.p2 {{ sign }} {{ two_sided_z(level) }} * sqrt(
            w_s.p1 * (1.0 - w_s.p1) / (({{ n1 }}) + 2.0)
            + w_s.p2 * (1.0 - w_s.p2) / (({{ n2 }}) + 2.0)
        )
    {%- endset -%}
    case when {{ n1 }} > 0 and {{ n2 }} > 0 then {{ let_in('w_s', shares, body) }} end
{%- endmacro %}
