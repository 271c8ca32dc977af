{# Binomial distribution of successes among independent trials.

   count   a whole number; trials: a whole number 0 or more; share: 0 to 1. Null gives null
   binomial_probability   exactly so many
   binomial_at_least      so many or more: the upper tail, with its own digits
   binomial_at_most       so many or fewer
   Tails by the incomplete beta function (Abramowitz & Stegun 26.5.24, from memory; checked against
   scipy), see `beta_cdf` for the error.
#}
{% macro binomial_at_least(count, trials, share) -%}
    {%- set k = '(' ~ count ~ ')' -%}
    {%- set rest = '(' ~ trials ~ ' - ' ~ k ~ ' + 1)' -%}
    case
        when {{ k }} <= 0 and {{ trials }} >= 0 and {{ share }} is not null then 1.0
        when {{ rest }} <= 0 and {{ share }} is not null then 0.0
        else {{ beta_cdf(share, k, rest) }}
    end
{%- endmacro %}


{# So many or fewer successes are so many or more failures. #}
{% macro binomial_at_most(count, trials, share) -%}
    {%- set k = '(' ~ count ~ ')' -%}
    {%- set failures = '(' ~ trials ~ ' - ' ~ k ~ ')' -%}
    case
        when {{ failures }} <= 0 and {{ trials }} >= 0 and {{ share }} is not null then 1.0
        when {{ k }} < 0 and {{ share }} is not null then 0.0
        else {{ beta_share('(1.0 - (' ~ share ~ '))', share, failures, k ~ ' + 1') }}
    end
{%- endmacro %}


{% macro binomial_probability(count, trials, share) -%}
    {%- set given = record({
        'x': share, 'y': '1.0 - (' ~ share ~ ')', 'a': '(' ~ count ~ ') + 1',
        'b': '(' ~ trials ~ ') - (' ~ count ~ ') + 1',
    }) -%}
    {%- set body -%}
        case
            when i_b.a < 1.0 or i_b.b < 1.0 then 0.0
            when i_b.x <= 0.0 then case when i_b.a = 1.0 then 1.0 else 0.0 end
            when i_b.y <= 0.0 then case when i_b.b = 1.0 then 1.0 else 0.0 end
            else exp({{ beta_log_front('i_b') }})
                / (i_b.x * i_b.y * (i_b.a + i_b.b - 1.0))
        end
    {%- endset -%}
    case
        when {{ count }} is not null and {{ trials }} >= 0 and {{ share }} is not null
            then {{ let_in('i_b', given, body) }}
    end
{%- endmacro %}
