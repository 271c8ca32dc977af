with class_days as (
    select * from {{ ref('int_class_days') }}
    where is_in_session
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
    where is_current_year
),

-- Days of this year on which any class of the school is in.
school_days as (
    select distinct
        class_days.school_id,
        class_days.term_id,
        class_days.day_on
    from class_days
    inner join terms
        on class_days.school_id = terms.school_id and class_days.term_id = terms.term_id
),

-- Its teacher sees what a review found some school days before the team does.
followed as (
    select
        *,
        lead(day_on, {{ threshold('teacher_first_days') }}) over (
            partition by school_id order by day_on
        ) as days_later_on,
        max(day_on) over (partition by school_id) as year_ends_on
    from school_days
),

spans as (
    select
        school_id,
        min(day_on) as first_on,
        {{ days_between('min(day_on)', as_of_on()) }} as days
    from school_days
    group by school_id
),

counted as (
    select
        school_id,
        first_on,
        {{ each_number('cast(floor(days / ' ~ threshold('review_days') ~ '.0) as bigint)') }}
            as step
    from spans
    where days >= {{ threshold('review_days') }}
),

-- Every so many days from the first school day; a day off moves it to the next school day.
scheduled as (
    select distinct
        counted.school_id,
        counted.step,
        min(followed.day_on) over (partition by counted.school_id, counted.step) as review_on
    from counted
    inner join followed
        on
            counted.school_id = followed.school_id
            and followed.day_on >= cast(
                counted.first_on
                + counted.step * interval {{ threshold('review_days') }} day as date
            )
),

reviews as (
    select
        followed.school_id,
        followed.day_on as review_on,
        followed.term_id,
        coalesce(followed.days_later_on, followed.year_ends_on) as team_sees_from_on,
        row_number() over (partition by followed.school_id order by followed.day_on)
            as review_number
    from followed
    where
        followed.day_on <= {{ as_of_on() }}
        and exists (
            select 1
            from scheduled
            where
                scheduled.school_id = followed.school_id
                and scheduled.review_on = followed.day_on
        )
),

today as (
    select
        school_id,
        {{ as_of_on() }} as review_on,
        term_id,
        cast(null as date) as team_sees_from_on,
        cast(null as bigint) as review_number
    from terms
    where is_current
),

-- The as-of day stands beside the reviews: it shows where things are and opens nothing.
days as (
    select
        *,
        true as is_review
    from reviews
    union all
    select
        *,
        false as is_review
    from today
)

select * from days
