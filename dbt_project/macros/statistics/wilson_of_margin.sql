{# Wilson's interval of a share whose error is known from the spread between sessions.

   value   column: the share, for example a mean over sessions
   margin  column: t x standard error, as `t_margin` gives it
   The margin was taken at `value`; at another share p it would be margin x sqrt(p (1 - p)) over
   sqrt(value (1 - value)). The limits are the shares that lie just one such margin away: Wilson's
   with value (1 - value) / error^2 looks, and t in place of the normal quantile.
   Null where value is 0 or 1 or the margin is 0: then nothing is known of the error elsewhere.
   Sources: Wilson 1927; looks from the spread, with t, as in Franco et al. 2019 (from memory).
#}
{% macro wilson_of_margin_low(value, margin) -%}
    {{ wilson_of_margin_limit(value, margin, '-') }}
{%- endmacro %}


{% macro wilson_of_margin_high(value, margin) -%}
    {{ wilson_of_margin_limit(value, margin, '+') }}
{%- endmacro %}


{% macro wilson_of_margin_limit(value, margin, sign) -%}
    {%- set square = margin ~ ' * ' ~ margin -%}
    {%- set per_look = square ~ ' / (' ~ value ~ ' * (1.0 - ' ~ value ~ '))' -%}
    case
        when {{ value }} > 0.0 and {{ value }} < 1.0 and {{ margin }} > 0.0
            then (
                {{ value }} + {{ per_look }} / 2.0
                {{ sign }} sqrt({{ square }} + power({{ per_look }}, 2) / 4.0)
            ) / (1.0 + {{ per_look }})
    end
{%- endmacro %}
