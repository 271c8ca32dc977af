with class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

plans as (
    select * from {{ ref('stg_supports__support_plans') }}
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
    where has_started
),

-- The picture at the end of each term, or on the as-of day.
moments as (
    select
        school_id,
        term_id,
        is_current,
        least(last_on, {{ as_of_on() }}) as moment_on
    from terms
),

-- In two tiers at once: the highest counts; with none, the first.
pupil_tiers as (
    select
        moments.school_id,
        moments.term_id,
        moments.is_current,
        class_pupils.pupil_id,
        coalesce(max(plans.tier_code), '1') as tier_code
    from moments
    inner join class_pupils
        on
            moments.school_id = class_pupils.school_id
            and moments.moment_on >= class_pupils.begin_on
            and moments.moment_on < class_pupils.end_on
    left join plans
        on
            class_pupils.pupil_id = plans.pupil_id
            and moments.moment_on >= plans.begin_on
            and moments.moment_on < plans.end_on
    group by moments.school_id, moments.term_id, moments.is_current, class_pupils.pupil_id
)

select * from pupil_tiers
