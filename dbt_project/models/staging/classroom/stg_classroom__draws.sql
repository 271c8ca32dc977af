with source as (
    select * from {{ source('latest', 'participation_draws') }}
),

renamed as (
    select
        draw_id,
        class_id,
        pupil_id,

        drawn_on,
        cast(drawn_at_local as string) as drawn_at_local,
        cast(entered_at as timestamp) as entered_at,

        method,
        outcome,
        context,

        sequence_number,
        cycle_number,
        wait_seconds,
        eligible_count,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
