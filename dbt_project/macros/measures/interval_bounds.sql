{# Ranges of figures whose way of being worked out is already chosen.

   relation  CTE with: value, is_share, is_signed, method (t, wilson, poisson, bounds or none),
             has_own_spread, spread_sd, spread_count, spread_df (for t), trials (for wilson),
             numerator, numerator_high, denominator
   A share with its own spread by t has limits that lie skew where it is near 0 or 1.
   Adds low, high at `ci_level` and low_one_sided, high_one_sided at `upper_level`.
#}
{% macro interval_bounds(relation) -%}
    {%- set two_sided = threshold('ci_level') -%}
    {%- set one_sided = '(2.0 * ' ~ threshold('upper_level') ~ ' - 1.0)' -%}
    select
        *,
        {{ bound('low', two_sided, 'margin') }} as low,
        {{ bound('high', two_sided, 'margin') }} as high,
        {{ bound('low', one_sided, 'margin_one_sided') }} as low_one_sided,
        {{ bound('high', one_sided, 'margin_one_sided') }} as high_one_sided
    from (
        select
            *,
            case when method = 't' then
                {{ t_margin('spread_sd', 'spread_count', 'spread_df', two_sided) }}
            end as margin,
            case when method = 't' then
                {{ t_margin('spread_sd', 'spread_count', 'spread_df', one_sided) }}
            end as margin_one_sided
        from {{ relation }}
    ) as with_margins
{%- endmacro %}


{# The standard error behind a range made from t, and its degrees of freedom; else null. #}
{% macro error_columns() -%}
    case when method = 't' then spread_sd / sqrt(spread_count) end as standard_error,
    case when method = 't' then cast(spread_df as double) end as spread_df
{%- endmacro %}


{% macro bound(side, level, margin) -%}
    {%- set sign = '-' if side == 'low' else '+' -%}
    {%- set edge = 'greatest(0.0, ' if side == 'low' else 'least(1.0, ' -%}
    {%- set floor = 'greatest(0.0, ' if side == 'low' else '(' -%}
    case method
        when 't' then
            case
                when margin is null then null
                when is_share and has_own_spread then {{ own_share_end(side, 'value', margin) }}
                when is_share then {{ edge }}value {{ sign }} {{ margin }})
                when is_signed then value {{ sign }} {{ margin }}
                else {{ floor }}value {{ sign }} {{ margin }})
            end
        when 'wilson' then
            {% if side == 'low' -%}
                {{ wilson_low('(value * trials)', 'trials', level) }}
            {%- else -%}
                {{ wilson_high('(value * trials)', 'trials', level) }}
            {%- endif %}
        when 'poisson' then
            {% if side == 'low' -%}
                {{ poisson_low('round(numerator)', level) }}
            {%- else -%}
                {{ poisson_high('round(numerator)', level) }}
            {%- endif %} / denominator
        when 'bounds' then {{ 'value' if side == 'low' else 'numerator_high / denominator' }}
    end
{%- endmacro %}


{# One end of the range of a share whose margin comes from its own visits or classes: skew where the
   share is near 0 or 1; at 0 and 1 themselves, where nothing is known of it, t cut at both.
#}
{% macro own_share_end(side, value, margin) -%}
    {%- if side == 'low' -%}
    coalesce({{ wilson_of_margin_low(value, margin) }}, greatest(0.0, {{ value }} - {{ margin }}))
    {%- else -%}
    coalesce({{ wilson_of_margin_high(value, margin) }}, least(1.0, {{ value }} + {{ margin }}))
    {%- endif -%}
{%- endmacro %}
