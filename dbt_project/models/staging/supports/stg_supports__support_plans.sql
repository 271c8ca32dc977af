with source as (
    select * from {{ source('latest', 'support_plans') }}
),

renamed as (
    select
        support_id,
        pupil_id,

        begin_on,
        coalesce(end_on, cast('9999-12-31' as date)) as end_on,
        next_review_on,

        cast(tier as string) as tier_code,
        support_kind,

        sessions_per_week as sessions_per_week_count,
        minutes_each as planned_minutes,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
