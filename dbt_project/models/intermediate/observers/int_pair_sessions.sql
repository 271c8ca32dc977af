with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted and pair_id is not null
),

seated as (
    select
        *,
        row_number() over (partition by pair_id order by observer_id, observation_id) as seat,
        count(*) over (partition by pair_id) as seat_count
    from sessions
),

-- A pair is two people at one visit; three sessions under one key, or one alone, are none.
pairs as (
    select
        pair_id,
        max(case when seat = 1 then observation_id end) as first_observation_id,
        max(case when seat = 2 then observation_id end) as second_observation_id,
        min(school_id) as school_id,
        min(class_id) as class_id,
        min(term_id) as term_id,
        min(observer_id) as first_observer_id,
        max(observer_id) as second_observer_id,
        min(observed_on) as observed_on,
        min(expected_voice_level) as expected_voice_level
    from seated
    where seat_count = 2
    group by pair_id
    having
        min(observer_id) != max(observer_id)
        and min(class_id) = max(class_id)
        and min(observed_on) = max(observed_on)
)

select * from pairs
