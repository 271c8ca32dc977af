with source as (
    select * from {{ source('latest', 'offer_decisions') }}
),

renamed as (
    select
        decision_id,
        class_id,
        routine_id,
        offer_id,

        decided_on,
        follow_up_on,
        cast(entered_at as timestamp) as entered_at,

        decision as decision_code,
        decided_by,
        note,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
