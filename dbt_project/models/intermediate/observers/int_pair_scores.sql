with scores as (
    select * from {{ ref('int_session_scores') }}
),

pairs as (
    select * from {{ ref('int_pair_sessions') }}
),

-- Scores of visits that two watched, where both have one.
paired as (
    select
        pairs.school_id,
        pairs.class_id,
        one.term_id,
        one.is_current_year,
        pairs.pair_id,
        pairs.observed_on,
        one.measure_kind,
        pairs.first_observer_id,
        pairs.second_observer_id,
        one.score as first_score,
        other.score as second_score
    from pairs
    inner join scores as one on pairs.first_observation_id = one.observation_id
    inner join scores as other
        on
            pairs.second_observation_id = other.observation_id
            and one.measure_kind = other.measure_kind
)

select * from paired
