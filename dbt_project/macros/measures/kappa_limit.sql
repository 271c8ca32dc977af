{# A limit of kappa at `ci_level`, cut at -1 and 1. Reads `agreement.kappa` and its error. #}
{% macro kappa_limit(sign) -%}
    {%- set z = two_sided_z(threshold('ci_level')) -%}
    case
        when agreement.kappa_se is not null
            then least(1.0, greatest(-1.0, agreement.kappa {{ sign }} {{ z }} * agreement.kappa_se))
    end
{%- endmacro %}
