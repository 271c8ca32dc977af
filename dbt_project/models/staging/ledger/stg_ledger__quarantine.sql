with source as (
    select * from {{ source('ledger', 'quarantine') }}
),

-- The row's own values stay behind: nobody downstream needs them.
renamed as (
    select
        file_hash,

        cast(decided_at as timestamp) as decided_at,

        feed,
        file_name,
        array_to_string(rule_names, ';') as rule_names,
        status,
        decided_by,

        can_release,

        line_number,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
