with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'student' and begin_on < end_on
),

-- A class at the end of each term of the year, or on the as-of day.
moments as (
    select
        school_id,
        term_id,
        least(last_on, {{ as_of_on() }}) as moment_on
    from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

counted as (
    select
        classes.school_id,
        classes.class_id,
        moments.term_id,
        count(distinct memberships.person_id) as pupil_count
    from classes
    inner join moments on classes.school_id = moments.school_id
    inner join memberships
        on
            classes.class_id = memberships.class_id
            and moments.moment_on >= memberships.begin_on
            and moments.moment_on < memberships.end_on
    group by classes.school_id, classes.class_id, moments.term_id
)

select * from counted
