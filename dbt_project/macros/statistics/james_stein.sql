{# James & Stein's pooling towards the mean of the group, all errors alike, as a query.

   relation   name of a CTE or table, one row a unit; keys: list of its columns that name a group
   estimate   its column; variance: its column, the sampling variance, the same for all units (their
              mean is taken). Rows with a null estimate are kept and count for nothing
   Columns out: all columns and `js_mean`, `js_weight` (1 - (k - 3) variance / sum of squares, not
   below 0; null for fewer than 4 units), `js_estimate`. Efron & Morris (1977).
#}
{% macro james_stein(relation, keys, estimate, variance) -%}
    {%- set by = 'partition by ' ~ keys | join(', ') -%}
    select
        *,
        js_mean + js_weight * ({{ estimate }} - js_mean) as js_estimate
    from (
        select
            *,
            avg({{ estimate }}) over ({{ by }}) as js_mean,
            case
                when count({{ estimate }}) over ({{ by }}) > 3 then coalesce(greatest(
                    0.0,
                    1.0 - (count({{ estimate }}) over ({{ by }}) - 3)
                    * avg(case when {{ estimate }} is not null then {{ variance }} end)
                        over ({{ by }})
                    / nullif(
                        var_samp({{ estimate }}) over ({{ by }})
                        * (count({{ estimate }}) over ({{ by }}) - 1), 0.0
                    )
                ), 0.0)
            end as js_weight
        from {{ relation }}
    ) as js_weighed
{%- endmacro %}
