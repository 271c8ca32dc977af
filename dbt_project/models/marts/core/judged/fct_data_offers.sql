with current_figures as (
    select * from {{ ref('fct_data_figures') }}
),

sides as (
    select * from {{ ref('fct_offer_sides') }}
    where not is_review
),

-- Lessons that were due and have no entry; entries that were written on a later day.
logs as (
    select
        school_id,
        class_id,
        class_title,
        term_id,
        case measure_name
            when 'backfilled_share' then 'back_filled' else 'missing_logs'
        end as data_code,
        measure_name,
        case measure_name
            when 'backfilled_share' then numerator_count
            else denominator_count - numerator_count
        end as found_count,
        denominator_count as looked_count,
        case measure_name when 'backfilled_share' then value else 1.0 - value end as found_rate,
        case
            when sufficiency not in ('usable', 'solid') then null
            when measure_name = 'backfilled_share' then {{ threshold('data_late_share') }}
            else {{ threshold('data_missing_share') }}
        end as asked_from_rate
    from current_figures
    where
        (measure_name = 'backfilled_share' and window_code = 'term')
        or (measure_name = 'completeness_lessons' and window_code = 'last_20')
),

-- How many of the visits that a figure needs are still to be made, all routines together.
thin as (
    select
        school_id,
        class_id,
        class_title,
        term_id,
        'thin' as data_code,
        measure_name,
        cast(
            greatest(
                0,
                {{ threshold('min_sessions') }} - session_count,
                {{ threshold('min_days') }} - day_count
            ) as double
        ) as found_count,
        cast({{ threshold('min_sessions') }} as double) as looked_count,
        greatest(
            0.0,
            1.0 - session_count * 1.0 / nullif({{ threshold('min_sessions') }}, 0),
            1.0 - day_count * 1.0 / nullif({{ threshold('min_days') }}, 0)
        ) as found_rate,
        0.0 as asked_from_rate
    from current_figures
    where measure_name = 'responsiveness' and window_code = 'term'
),

-- Measures of this class that could be read if its observers agreed.
conflicting as (
    select
        thin.school_id,
        thin.class_id,
        thin.class_title,
        thin.term_id,
        'conflicting' as data_code,
        coalesce(
            min(case when sides.is_held and sides.is_enough then sides.measure_name end), '*'
        ) as measure_name,
        cast(count(*) filter (where sides.is_held and sides.is_enough) as double)
            as found_count,
        cast(count(*) filter (where sides.is_enough) as double) as looked_count,
        count(*) filter (where sides.is_held and sides.is_enough) * 1.0
        / nullif(count(*) filter (where sides.is_enough), 0) as found_rate,
        0.0 as asked_from_rate
    from thin
    left join sides
        on thin.class_id = sides.class_id and thin.term_id = sides.term_id
    group by thin.school_id, thin.class_id, thin.class_title, thin.term_id
),

together as (
    select * from logs
    union all
    select * from thin
    union all
    select * from conflicting
),

asked as (
    select
        school_id,
        class_id,
        class_title,
        term_id,
        data_code,
        measure_name,
        round(found_count, 9) as found_count,
        round(looked_count, 9) as looked_count,
        round(found_rate, 9) as found_rate,
        coalesce(found_count > 0.0 and found_rate >= asked_from_rate, false) as is_asked
    from together
)

select * from asked
