{# Hypergeometric distribution: marked ones among those drawn without putting back.

   count    marked ones drawn; total: all there are; marked: marked among all; drawn: how many
   drawn.
            Whole numbers; null gives null
   hypergeometric_probability   exactly so many; hypergeometric_at_least: so many or more (the p of
            Fisher's exact test on one side)
   From logarithms of factorials; the tail adds up its terms, each from the one before.
#}
{% macro hypergeometric_probability(count, total, marked, drawn) -%}
    {{ let_in('h_g', hypergeometric_given(count, total, marked, drawn), hypergeometric_body()) }}
{%- endmacro %}


{% macro hypergeometric_at_least(count, total, marked, drawn) -%}
    {%- set least = 'greatest(0, ' ~ count ~ ', ' ~ marked ~ ' + ' ~ drawn ~ ' - ' ~ total ~ ')' -%}
    {%- set ratio -%}
        1.0 + h_f * (h_g.m - h_g.k - h_s + 1.0) * (h_g.d - h_g.k - h_s + 1.0)
        / ((h_g.k + h_s) * (h_g.t - h_g.m - h_g.d + h_g.k + h_s))
    {%- endset -%}
    {%- set terms = fold('h_f', 'h_s', 'least(h_g.m, h_g.d) - h_g.k', '1.0', ratio) -%}
    {%- set body -%}
        case
            when h_g.k > least(h_g.m, h_g.d) then 0.0
            when h_g.k = least(h_g.m, h_g.d) then {{ hypergeometric_body() }}
            else ({{ hypergeometric_body() }}) * {{ terms }}
        end
    {%- endset -%}
    case
        when {{ count }} is not null
            then {{ let_in('h_g', hypergeometric_given(least, total, marked, drawn), body) }}
    end
{%- endmacro %}


{% macro hypergeometric_given(count, total, marked, drawn) -%}
    {{ record({'k': count, 't': total, 'm': marked, 'd': drawn}) }}
{%- endmacro %}


{# Products of factorials: a number stands for its factorial, minus it for one over that. #}
{% macro hypergeometric_body() -%}
    {%- set factorials = [
        'h_g.m', 'h_g.t - h_g.m', 'h_g.d', 'h_g.t - h_g.d', '-h_g.t', '-h_g.k',
        'h_g.k - h_g.m', 'h_g.k - h_g.d', 'h_g.m + h_g.d - h_g.t - h_g.k',
    ] -%}
    case
        when h_g.k + h_g.t + h_g.m + h_g.d is null then null
        when
            h_g.k < 0.0 or h_g.k > least(h_g.m, h_g.d)
            or h_g.k < h_g.m + h_g.d - h_g.t
            then 0.0
        else exp({{ sum_over('h_n', factorials,
            'sign(h_n) * (' ~ log_gamma('(abs(h_n) + 1.0)') ~ ')') }})
    end
{%- endmacro %}
