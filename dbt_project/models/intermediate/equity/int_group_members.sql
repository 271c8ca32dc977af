with pupil_tiers as (
    select * from {{ ref('int_pupil_tiers') }}
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
    where has_started
),

supported as (
    select
        school_id,
        term_id,
        pupil_id,
        'supported' as group_code
    from pupil_tiers
    where tier_code != '1'
),

years as (
    select
        school_id,
        school_year_ends,
        min(first_on) as first_on,
        max(last_on) as last_on
    from terms
    group by school_id, school_year_ends
),

-- The first day of the year on which a child was in any class of the school.
arrivals as (
    select
        years.school_id,
        years.school_year_ends,
        class_pupils.pupil_id,
        min(class_pupils.begin_on) as first_in_on
    from years
    inner join class_pupils
        on
            years.school_id = class_pupils.school_id
            and years.last_on >= class_pupils.begin_on
            and years.first_on < class_pupils.end_on
    group by years.school_id, years.school_year_ends, class_pupils.pupil_id
),

-- A newcomer stays one until the year ends.
newcomers as (
    select
        terms.school_id,
        terms.term_id,
        arrivals.pupil_id,
        'newcomers' as group_code
    from terms
    inner join years
        on
            terms.school_id = years.school_id
            and terms.school_year_ends = years.school_year_ends
    inner join arrivals
        on
            terms.school_id = arrivals.school_id
            and terms.school_year_ends = arrivals.school_year_ends
            and terms.last_on >= arrivals.first_in_on
            and years.first_on < arrivals.first_in_on
),

members as (
    select * from supported
    union all
    select * from newcomers
)

select * from members
