{# Means of two phases compared, one row a group, as a query: log response ratio and differences.

   relation  name of a CTE or table; keys: list of its columns
   is_after  condition: true in the second phase; value: column or expression, 0 or more
   level     two-sided level of the range, a number
   Columns out: the keys, `before_count`, `after_count`, `before_mean`, `after_mean`, `before_sd`,
   `after_sd`, `log_ratio_plain` ln(after / before), `log_ratio` (corrected for small samples),
   `log_ratio_se`, `log_ratio_low`, `log_ratio_high`, `smd_plain` (difference / sd before), `smd`
   (times 1 - 3 / (4 (n - 1) - 1)), `smd_se`. Null where a phase has no point, one point (all that
   need an sd), a mean of 0 or less (log ratio) or no spread before (smd).
   A: .62 .70 .66 .58 .69, B: .71 .78 .74 .82 .80 .76: plain .1673, corrected .1669, se .0405.
   Pustejovsky (2018) (from memory; checked against printed output).
#}
{% macro phase_means(relation, keys, is_after, value, level) -%}
    {%- set by = keys | join(', ') -%}
    {%- set z = two_sided_z(level) -%}
    select
        *,
        log_ratio - {{ z }} * log_ratio_se as log_ratio_low,
        log_ratio + {{ z }} * log_ratio_se as log_ratio_high,
        small_factor * sqrt(
            1.0 / before_count
            + after_sd * after_sd / (after_count * before_sd * before_sd)
            + smd * smd / (2.0 * (before_count - 1.0))
        ) as smd_se
    from (
        select
            *,
            {{ log_of_ratio() }} as log_ratio_plain,
            {{ log_of_ratio() }}
            + {{ relative_variance('after') }} / 2.0 - {{ relative_variance('before') }} / 2.0
                as log_ratio,
            case when before_mean > 0.0 and after_mean > 0.0 then
                sqrt({{ relative_variance('after') }} + {{ relative_variance('before') }})
            end as log_ratio_se,
            (after_mean - before_mean) / nullif(before_sd, 0.0) as smd_plain,
            small_factor * (after_mean - before_mean) / nullif(before_sd, 0.0) as smd
        from (
            select
                *,
                case when before_count >= 2 then 1.0 - 3.0 / (4.0 * (before_count - 1.0) - 1.0)
                end as small_factor
            from (
                select
                    {{ by }},
                    {{ phase_moments(is_after, value, 'after') }},
                    {{ phase_moments('not (' ~ is_after ~ ')', value, 'before') }}
                from {{ relation }}
                group by {{ by }}
            ) as phase_sums
        ) as phase_factors
    ) as phase_ratios
{%- endmacro %}


{% macro phase_moments(condition, value, name) -%}
    count(case when {{ condition }} then {{ value }} end) as {{ name }}_count,
    avg(case when {{ condition }} then cast({{ value }} as double) end) as {{ name }}_mean,
    stddev_samp(case when {{ condition }} then cast({{ value }} as double) end) as {{ name }}_sd
{%- endmacro %}


{% macro log_of_ratio() -%}
    case when before_mean > 0.0 and after_mean > 0.0 then ln(after_mean / before_mean) end
{%- endmacro %}


{# Variance of a mean over its square: variance of its logarithm. #}
{% macro relative_variance(phase) -%}
    ({{ phase }}_sd * {{ phase }}_sd / ({{ phase }}_count * {{ phase }}_mean * {{ phase }}_mean))
{%- endmacro %}
