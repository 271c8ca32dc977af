with source as (
    select * from {{ source('ledger', 'files') }}
),

renamed as (
    select
        file_number,
        file_hash,

        file_name,
        feed,
        contract_version,
        status,

        received_count,
        accepted_count,
        known_count,
        quarantined_count,
        refused_count,
        warning_count,

        cast(received_at as timestamp) as received_at
    from source
)

select * from renamed
