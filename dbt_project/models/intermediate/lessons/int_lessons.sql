with lessons as (
    select * from {{ ref('stg_classroom__lessons') }}
    where {{ is_known('taught_on', 'entered_at') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

term_days as (
    select * from {{ ref('int_term_days') }}
),

versions as (
    select * from {{ ref('int_routine_versions') }}
),

day_counts as (
    select * from {{ ref('int_class_day_counts') }}
),

enrolment as (
    select * from {{ ref('int_class_day_enrolment') }}
),

-- The version that held on the day; before the first one, the first.
with_version as (
    select
        lessons.*,
        versions.step_count,
        versions.tier_code
    from lessons
    left join versions
        on
            lessons.routine_id = versions.routine_id
            and (versions.is_first or lessons.taught_on >= versions.valid_from_on)
    qualify row_number() over (
        partition by lessons.lesson_id order by versions.version desc
    ) = 1
),

placed as (
    select
        with_version.*,
        classes.school_id,
        term_days.term_id,
        {{ week_first('with_version.taught_on') }} as week_first_on,
        coalesce(enrolment.enrolled_count, 0) as enrolled_count,
        case
            when with_version.entered_at is null then null
            when {{ local_date('with_version.entered_at') }} <= with_version.taught_on then 0
            else entered_days.school_days_so_far - taught_days.school_days_so_far
        end as entry_delay_days
    from with_version
    inner join classes on with_version.class_id = classes.class_id
    left join term_days
        on
            classes.school_id = term_days.school_id
            and with_version.taught_on = term_days.day_on
    left join enrolment
        on
            with_version.class_id = enrolment.class_id
            and with_version.taught_on = enrolment.day_on
    left join day_counts as taught_days
        on
            with_version.class_id = taught_days.class_id
            and with_version.taught_on = taught_days.day_on
    left join day_counts as entered_days
        on
            with_version.class_id = entered_days.class_id
            and {{ local_date('with_version.entered_at') }} = entered_days.day_on
),

weighed as (
    select
        *,
        case
            when taught_by is null then 0
            else length(taught_by) - length(replace(taught_by, ';', '')) + 1
        end as deliverer_count,
        coalesce(entry_delay_days >= 1, false) as is_backfilled,
        coalesce(entry_delay_days > {{ threshold('late_days') }}, false) as is_late,
        case
            when status = 'delivered' then 1.0
            when status = 'cancelled' then 0.0
            when steps_done_count is not null and step_count > 0
                then least(1.0, steps_done_count * 1.0 / step_count)
            else {{ threshold('part_delivered_share') }}
        end as delivered_share
    from placed
)

select * from weighed
