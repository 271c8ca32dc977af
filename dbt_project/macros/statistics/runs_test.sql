{# Wald & Wolfowitz's runs test about a center, one row a series, as a query.

   relation, keys, order_by, value, center   as for `run_chart`; the center is the median when none
   Columns out: the keys, `above_count`, `below_count`, `run_count`, `expected_runs`, `runs_sd`,
   `z_score`, `p_value` (two-sided, normal, without continuity). Points on the center are left out.
   Null z and p when all points lie on one side. NIST/SEMATECH e-Handbook 1.3.5.13 (from memory).
#}
{% macro runs_test(relation, keys, order_by, value, center=none) -%}
    {%- set by = keys | join(', ') -%}
    select
        *,
        2.0 * {{ normal_cdf('-abs(z_score)') }} as p_value
    from (
        select
            *,
            (run_count - expected_runs) / nullif(runs_sd, 0.0) as z_score
        from (
            select
                *,
                2.0 * above_count * below_count / (above_count + below_count) + 1.0
                    as expected_runs,
                sqrt(
                    2.0 * above_count * below_count
                    * (2.0 * above_count * below_count - above_count - below_count)
                    / nullif(
                        power(above_count + below_count, 2) * (above_count + below_count - 1.0),
                        0.0
                    )
                ) as runs_sd
            from (
                select
                    {{ by }},
                    count(case when run_side = 1 then 1 end) as above_count,
                    count(case when run_side = -1 then 1 end) as below_count,
                    max(run_number) as run_count
                from (
                    {{ numbered_runs(
                        '(' ~ points_about_center(relation, keys, order_by, value, center)
                        ~ ') as runs_points',
                        keys
                    ) }}
                ) as runs_numbered
                group by {{ by }}
            ) as runs_counted
        ) as runs_expected
    ) as runs_scored
{%- endmacro %}
