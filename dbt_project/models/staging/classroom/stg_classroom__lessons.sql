with source as (
    select * from {{ source('latest', 'routine_lessons') }}
),

renamed as (
    select
        lesson_id,
        class_id,
        routine_id,

        taught_on,
        cast(started_at_local as string) as started_at_local,
        cast(entered_at as timestamp) as entered_at,

        setting,
        lesson_kind,
        mode,
        practised_in,
        taught_by,
        status,
        cancel_reason,
        entered_by,
        note,

        coalesce(is_substitute, false) as is_substitute,

        minutes,
        pupils_present as pupils_present_count,
        steps_done as steps_done_count,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
