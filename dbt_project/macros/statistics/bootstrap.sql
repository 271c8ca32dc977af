{# Bootstrap over sessions (Efron 1979): what a figure would have been, had other sessions of the
   same kind been seen. A pure function of the seed and the rows; no engine's own random numbers.

   `bootstrap_mean` and `bootstrap_share` give a figure with its range; `bootstrap_sums` and
   `bootstrap_range` are the two halves, for a figure that is made of several sums.

   relation    CTE or table with one row a session; keys: list of its columns, never null
   resamples   how many times the sessions are drawn again; seed: a whole number or text
   level       two-sided level as a number

   Columns out of `bootstrap_mean(value)` and `bootstrap_share(numerator, denominator)`: the keys,
   `session_count`, `estimate` (mean; sum over sum), `standard_error`, `low`, `high`,
   `percentile_low`, `percentile_high`. Rows with a null are left out.

   `standard_error` is the spread of the resampled figures x sqrt(n / (n - 1)), because n sessions
   drawn with replacement vary less than n new ones. `low` and `high` are the estimate -/+ t(n - 1) x
   standard error; null for one session; equal to the estimate where all sessions are alike.
   `percentile_low` and `percentile_high` are Efron's percentiles. They are too narrow for few
   sessions: of ranges that should hold the truth 95 times in 100, they hold it 80 times with four.
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


{# Sums over resampled sessions: the keys, `resample_number` from 1, `session_count`, and each of
   `columns` (numbers; null counts as nothing) summed over as many sessions, drawn with replacement.

   Sessions are numbered in the order of their columns, so that the same rows give the same draws in
   whatever order they arrive.
#}
{% macro bootstrap_sums(relation, keys, columns, resamples, seed) -%}
    {%- set by = keys | join(', ') -%}
    {%- set group_text -%}
        {%- for key in keys -%}
            cast({{ key }} as string){{ " || '|' || " if not loop.last }}
        {%- endfor -%}
    {%- endset -%}
    {%- set placed -%}
        (
            select
                *,
                {{ draw_key(["'" ~ seed ~ "'", 'boot_group', 'boot_place']) }} as boot_key
            from (
                select
                    {{ by }},
                    {{ columns | join(', ') }},
                    {{ group_text }} as boot_group,
                    dense_rank() over (order by {{ by }}) as boot_number,
                    count(*) over (partition by {{ by }}) as boot_size,
                    row_number() over (partition by {{ by }} order by {{ columns | join(', ') }})
                        as boot_place
                from {{ relation }}
            ) as boot_rows
        )
    {%- endset -%}
    select
        {% for key in keys %}boot_groups.{{ key }}, {% endfor %}
        boot_totals.resample_number,
        boot_groups.boot_size as session_count,
        {%- for column in columns %}
        boot_totals.{{ column }}{{ "," if not loop.last }}
        {%- endfor %}
    from (
        select
            boot_drawn.boot_number,
            boot_drawn.resample_number,
            {%- for column in columns %}
            sum(boot_units.{{ column }}) as {{ column }}{{ "," if not loop.last }}
            {%- endfor %}
        from (
            select
                boot_number,
                resample_number,
                cast(
                    floor(
                        {{ mixed_draw('boot_key', 'resample_number') }} * 1.0
                        / {{ mixing_prime() }} * boot_size
                    ) as bigint
                ) + 1 as boot_pick
            from (
                select
                    boot_number,
                    boot_size,
                    boot_key,
                    {{ each_number(resamples) }} as resample_number
                from {{ placed }} as boot_slots
            ) as boot_numbered
        ) as boot_drawn
        inner join {{ placed }} as boot_units
            on
                boot_drawn.boot_number = boot_units.boot_number
                and boot_drawn.boot_pick = boot_units.boot_place
        group by boot_drawn.boot_number, boot_drawn.resample_number
    ) as boot_totals
    inner join {{ placed }} as boot_groups
        on boot_totals.boot_number = boot_groups.boot_number and boot_groups.boot_place = 1
{%- endmacro %}


{# Spread and percentiles of a figure over its resamples: the keys, `session_count`,
   `standard_error`, `percentile_low`, `percentile_high`. Resamples without a figure are left out.
#}
{% macro bootstrap_range(relation, keys, figure, level) -%}
    {%- set tail = '(1.0 - ' ~ level ~ ') / 2.0' -%}
    select
        {{ keys | join(', ') }},
        session_count,
        stddev_samp({{ figure }}) * sqrt(session_count / nullif(session_count - 1.0, 0.0))
            as standard_error,
        percentile_cont({{ tail }}) within group (order by {{ figure }}) as percentile_low,
        percentile_cont(1.0 - {{ tail }}) within group (order by {{ figure }}) as percentile_high
    from {{ relation }}
    group by {{ keys | join(', ') }}, session_count
{%- endmacro %}
