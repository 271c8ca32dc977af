{%- set reasons = [
    'after_break', 'data_dip', 'not_yet_taught', 'newcomer', 'long_ago', 'none'
] -%}
with gathered as (
    select * from {{ ref('fct_teach_next') }}
),

reasoned as (
    select
        *,
        case
            when last_taught_on is null then 'not_yet_taught'
            when is_after_break then 'after_break'
            when is_below then 'data_dip'
            when is_newcomer then 'newcomer'
            when days_since_taught > {{ threshold('last_days') }} then 'long_ago'
            else 'none'
        end as reason_code
    from gathered
),

shown as (
    select
        class_id,
        routine_id,
        routine_name,
        reason_code,
        last_taught_on,
        cast(days_since_taught as bigint) as days_since_taught,
        round(cast(value as double), 9) as value,
        round(cast(low as double), 9) as low,
        round(cast(high as double), 9) as high,
        cast(session_count as bigint) as session_count,
        sufficiency,
        round(cast(own_past_value as double), 9) as own_past_value,
        next_due_on,
        next_lesson_kind,
        row_number() over (
            partition by class_id
            order by
                case reason_code
                    {%- for reason in reasons %}
                    when '{{ reason }}' then {{ loop.index }}
                    {%- endfor %}
                end,
                next_due_on nulls last,
                routine_name,
                routine_id
        ) as sort_order,
        {{ lineage_columns() }}
    from reasoned
)

select * from shown
