with source as (
    select * from {{ source('latest', 'coaching_events') }}
),

renamed as (
    select
        event_id,
        cycle_id,
        class_id,
        coach_id,
        routine_id,
        observation_id,

        event_on,
        chosen_start_on,

        event_kind,
        phase,
        goal_measure,
        start_options,
        outcome,

        minutes,
        goal_value,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
