with source as (
    select * from {{ source('latest', 'support_checks') }}
),

renamed as (
    select
        check_id,
        support_id,

        checked_on,

        checked_by,
        method,
        not_delivered_reason,

        sessions_planned as planned_count,
        sessions_delivered as delivered_count,
        steps_done as steps_done_count,
        steps_applicable as steps_applicable_count,
        minutes_delivered,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
