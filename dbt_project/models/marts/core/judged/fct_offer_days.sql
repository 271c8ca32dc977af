with signs as (
    select * from {{ ref('fct_offer_signs') }}
    where not is_review
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session
),

-- Not before a review has passed since the newest visit, and never today or in the past.
earliest as (
    select
        class_id,
        routine_id,
        cast(
            greatest(
                coalesce(
                    cast(
                        newest_on + interval {{ threshold('review_days') }} day as date
                    ),
                    {{ as_of_on() }}
                ),
                cast({{ as_of_on() }} + interval 1 day as date)
            ) as date
        ) as earliest_on
    from signs
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
)

select * from next_days
