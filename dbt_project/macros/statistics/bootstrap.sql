{# Bootstrap over sessions (Efron 1979): what a figure would have been, had other sessions of the
   same kind been seen. A pure function of the seed and the rows; no engine's own random numbers.

   `bootstrap_mean` and `bootstrap_share` give a figure with its range. For a figure that is made of
   several sums, `bootstrap_sums` and `bootstrap_range` are the two halves of them.

   relation    CTE or table with one row a session; keys: list of its columns, never null
   resamples   how many times the sessions are drawn again; seed: a whole number or text
   level       two-sided level as a number

   Columns out of `bootstrap_mean(value)` and `bootstrap_share(numerator, denominator)`: the keys,
   `session_count`, `estimate` (mean; sum over sum), `standard_error`, `low`, `high`,
   `percentile_low`, `percentile_high`. Rows with a null are left out.

   `standard_error` is the spread of the resampled figures x sqrt(n / (n - 1)), because n sessions
   drawn with replacement vary less than n new ones. `low` and `high` are the estimate -/+ t(n - 1)
   x standard error; null for one session; equal to the estimate where all sessions are alike.
   `percentile_low` and `percentile_high` are Efron's percentiles. They are too narrow for few
   sessions: of 95 % ranges from four sessions 82 % held the truth (0088 in docs/decisions).
#}
{% macro bootstrap_mean(relation, keys, value, level, resamples, seed) -%}
    {{ bootstrap_share(relation, keys, value, '1.0', level, resamples, seed) }}
{%- endmacro %}


{% macro bootstrap_share(relation, keys, numerator, denominator, level, resamples, seed) -%}
    {%- set by = keys | join(', ') -%}
    {%- set sessions -%}
        (
            select
                {{ by }},
                cast({{ numerator }} as double) as boot_top,
                cast({{ denominator }} as double) as boot_bottom
            from {{ relation }}
            where {{ numerator }} is not null and {{ denominator }} is not null
        ) as boot_sessions
    {%- endset -%}
    {%- set resampled -%}
        (
            select
                *,
                boot_top / nullif(boot_bottom, 0.0) as boot_figure
            from (
                {{ bootstrap_sums(sessions, keys, ['boot_top', 'boot_bottom'], resamples, seed) }}
            ) as boot_drawn
        ) as boot_figures
    {%- endset -%}
    select
        {{ by }},
        session_count,
        estimate,
        standard_error,
        estimate - boot_margin as low,
        estimate + boot_margin as high,
        percentile_low,
        percentile_high
    from (
        select
            *,
            {{ t_margin('standard_error', '1', '(session_count - 1)', level) }} as boot_margin
        from (
            {{ bootstrap_range(resampled, keys, 'boot_figure', level) }}
        ) as boot_ranges
        inner join (
            select
                {{ by }},
                sum(boot_top) / nullif(sum(boot_bottom), 0.0) as estimate
            from {{ sessions }}
            group by {{ by }}
        ) as boot_estimates using ({{ by }})
    ) as boot_margins
{%- endmacro %}
