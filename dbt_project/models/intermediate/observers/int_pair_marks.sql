with pairs as (
    select * from {{ ref('int_pair_sessions') }}
),

observed as (
    select * from {{ ref('stg_classroom__observation_rows') }}
    where row_type in ('moment', 'interval', 'step', 'voice', 'rating')
),

seats as (
    select
        pair_id,
        1 as seat,
        first_observation_id as observation_id
    from pairs
    union all
    select
        pair_id,
        2 as seat,
        second_observation_id as observation_id
    from pairs
),

-- What makes two rows the same look: its second and seat, the step, or what was rated.
marked as (
    select
        seats.pair_id,
        seats.seat,
        observed.row_number,
        case
            when observed.row_type in ('moment', 'interval') then 'moment'
            else observed.row_type
        end as measure_kind,
        case observed.row_type
            when 'step' then cast(observed.step_number as string)
            when 'rating' then observed.code
            else
                coalesce(cast(observed.at_seconds as string), '')
                || '|' || coalesce(cast(observed.target_slot as string), '')
        end as mark_key,
        case
            when observed.code in ('expected', 'accommodated', 'done') then 1.0
            when observed.code in ('not_expected', 'not_done') then 0.0
            when observed.row_type in ('voice', 'rating') then cast(observed.value as double)
        end as level
    from seats
    inner join observed on seats.observation_id = observed.observation_id
),

-- Rows with one and the same key are matched in their order, and only when both have as many.
numbered as (
    select
        *,
        count(*) over (partition by pair_id, seat, measure_kind, mark_key) as twin_count,
        row_number() over (
            partition by pair_id, seat, measure_kind, mark_key order by row_number
        ) as twin_number
    from marked
),

matched as (
    select
        pairs.school_id,
        pairs.class_id,
        pairs.term_id,
        pairs.pair_id,
        pairs.observed_on,
        one.measure_kind,
        one.mark_key,
        one.twin_number,
        one.level as first_level,
        other.level as second_level,
        case one.measure_kind
            when 'voice' then one.level = pairs.expected_voice_level
            when 'rating' then cast(null as boolean)
            else one.level = 1.0
        end as is_first_met,
        case one.measure_kind
            when 'voice' then other.level = pairs.expected_voice_level
            when 'rating' then cast(null as boolean)
            else other.level = 1.0
        end as is_second_met
    from numbered as one
    inner join numbered as other
        on
            one.pair_id = other.pair_id
            and one.measure_kind = other.measure_kind
            and one.mark_key = other.mark_key
            and one.twin_number = other.twin_number
            and one.twin_count = other.twin_count
    inner join pairs on one.pair_id = pairs.pair_id
    where one.seat = 1 and other.seat = 2
),

-- A look that one of them could not tell is no comparison.
compared as (
    select * from matched
    where first_level is not null and second_level is not null
)

select * from compared
