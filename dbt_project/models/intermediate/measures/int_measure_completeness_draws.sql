with class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session and is_elapsed
),

draws as (
    select * from {{ ref('int_draws') }}
),

draw_days as (
    select distinct
        class_id,
        drawn_on
    from draws
),

days as (
    select
        class_days.school_id,
        class_days.class_id,
        class_days.day_on,
        case when draw_days.class_id is null then 0 else 1 end as is_drawn
    from class_days
    left join draw_days
        on class_days.class_id = draw_days.class_id and class_days.day_on = draw_days.drawn_on
),

parts as (
    select
        {{ share_part(
            'day_on',
            numerator='is_drawn',
            denominator='1',
            routine_id='cast(null as string)',
            tier_code='cast(null as string)'
        ) }}
    from days
)

select * from parts
