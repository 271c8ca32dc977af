{# The difference of two means of visits and the one word for it: before against since.

   before, since   prefixes of <prefix>_session_count, <prefix>_value, <prefix>_variance
   Spread: pooled over both sides. Range: t at `ci_level`, two-sided (docs/decisions/0122).
#}
{% macro pooled_spread(before, since) -%}
    sqrt(
        (
            greatest({{ before }}_session_count - 1, 0) * {{ before }}_variance
            + greatest({{ since }}_session_count - 1, 0) * {{ since }}_variance
        )
        / nullif({{ before }}_session_count + {{ since }}_session_count - 2, 0)
    )
{%- endmacro %}


{# Visits that one mean would need to be as sure as the difference of the two. #}
{% macro count_of_both(before, since) -%}
    cast({{ before }}_session_count as double) * {{ since }}_session_count
    / nullif({{ before }}_session_count + {{ since }}_session_count, 0)
{%- endmacro %}


{# Whether each side has the visits that a value needs. #}
{% macro is_readable_change(before, since) -%}
    {{ before }}_session_count >= {{ threshold('min_sessions') }}
    and {{ since }}_session_count >= {{ threshold('min_sessions') }}
{%- endmacro %}


{# moved_up, moved_down: the range leaves out zero; same: it does not; early: too few visits. #}
{% macro moved_code(is_readable, low, high) -%}
    case
        when not coalesce({{ is_readable }}, false) then 'early'
        when round({{ low }}, 9) > 0 then 'moved_up'
        when round({{ high }}, 9) < 0 then 'moved_down'
        else 'same'
    end
{%- endmacro %}
