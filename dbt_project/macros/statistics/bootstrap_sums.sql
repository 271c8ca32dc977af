{# Sums over resampled sessions; for the arguments see `bootstrap_mean`.

   columns   numbers to add up; null counts as nothing
   Columns out: the keys, `resample_number` from 1, `session_count`, and each of `columns` summed
   over as many sessions as there are, drawn with replacement; a session brings all its columns.
   Sessions are numbered in the order of their columns, to nine places, so that the same rows give
   the same draws in whatever order they arrive and whatever the last digits of sums among them;
   groups are numbered only to join quickly.
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
                    row_number() over (
                        partition by {{ by }}
                        order by
                            {%- for column in columns %}
                            round(cast({{ column }} as double), 9){{ "," if not loop.last }}
                            {%- endfor %}
                    ) as boot_place
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
                        cast({{ mixed_draw('boot_key', 'resample_number') }} as double)
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
