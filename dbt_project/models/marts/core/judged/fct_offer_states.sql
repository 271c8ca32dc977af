with signs as (
    select * from {{ ref('fct_offer_signs') }}
),

matters as (
    select * from {{ ref('fct_offer_matters') }}
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session
),

held_by_grade as (
    select distinct
        class_grades.class_id,
        matters.routine_id
    from matters
    inner join class_grades
        on
            matters.school_id = class_grades.school_id
            and matters.grade_code = class_grades.grade_code
    where matters.level_code = 'grade'
),

held_by_school as (
    select
        school_id,
        routine_id
    from matters
    where level_code = 'school'
),

-- Not before a review has passed since the newest visit, and never today or in the past.
earliest as (
    select
        signs.*,
        held_by_school.routine_id is not null as is_school_matter,
        held_by_grade.routine_id is not null as is_grade_matter,
        cast(
            greatest(
                coalesce(
                    cast(
                        signs.newest_on + interval {{ threshold('review_days') }} day as date
                    ),
                    {{ as_of_on() }}
                ),
                cast({{ as_of_on() }} + interval 1 day as date)
            ) as date
        ) as earliest_on
    from signs
    left join held_by_school
        on
            signs.school_id = held_by_school.school_id
            and signs.routine_id = held_by_school.routine_id
    left join held_by_grade
        on
            signs.class_id = held_by_grade.class_id
            and signs.routine_id = held_by_grade.routine_id
),

next_days as (
    select
        earliest.class_id,
        earliest.routine_id,
        min(school_days.day_on) as next_review_on
    from earliest
    inner join school_days
        on
            earliest.class_id = school_days.class_id
            and earliest.earliest_on <= school_days.day_on
    group by earliest.class_id, earliest.routine_id
),

dated as (
    select
        earliest.*,
        next_days.next_review_on
    from earliest
    left join next_days
        on
            earliest.class_id = next_days.class_id
            and earliest.routine_id = next_days.routine_id
),

reasoned as (
    select
        *,
        case
            when not is_planned then 'no_plan'
            when shows_it and is_school_matter then 'held_school'
            when shows_it and is_grade_matter then 'held_grade'
            when shows_it then null
            when not is_readable then 'thin'
            when is_below then 'one_sign'
            when status in ('met', 'likely_met') then 'met'
            else 'unclear'
        end as why_not
    from dated
),

-- The team's hands are few: who comes first is settled by date and by name, never by a score.
placed as (
    select
        *,
        row_number() over (
            partition by school_id, why_not is null
            order by next_review_on nulls last, class_title, routine_id
        ) as place
    from reasoned
),

stated as (
    select
        school_id,
        class_id,
        class_title,
        grade_codes,
        routine_id,
        term_id,
        measure_name,
        sufficiency,
        status,
        is_planned,
        is_readable,
        is_below,
        is_below_twice,
        is_down,
        is_lasting,
        newest_on,
        session_count,
        day_count,
        numerator_count,
        denominator_count,
        value,
        low,
        high,
        high_one_sided,
        previous_value,
        previous_sufficiency,
        sign_count,
        shows_it,
        next_review_on,
        why_not,
        case
            when why_not in ('held_school', 'held_grade') then why_not
            when why_not is not null then 'none'
            when place > {{ threshold('offer_capacity') }} then 'waiting'
            else 'offer'
        end as state_code
    from placed
)

select * from stated
