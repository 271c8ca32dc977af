with sessions as (
    select * from {{ ref('int_observation_sessions') }}
    where is_counted
),

-- The sides of one visit stay together. Two observers of a pair become their mean, side by side, as
-- in the measures themselves.
visits as (
    select
        school_id,
        class_id,
        visit_id,
        min(routine_id) as routine_id,
        min(observed_on) as observed_on,
        bool_or(is_substitute) as is_substitute,
        avg(
            steps_done_count * 1.0 / nullif(steps_done_count + steps_not_done_count, 0)
        ) as adherence,
        avg(ratings_sum / nullif(3.0 * ratings_count, 0.0)) as quality,
        avg(
            (moments_expected_count + moments_accommodated_count) * 1.0
            / nullif(
                moments_expected_count + moments_accommodated_count + moments_not_expected_count, 0
            )
        ) as responsiveness
    from sessions
    group by school_id, class_id, visit_id
)

select * from visits
