with files as (
    select * from {{ ref('stg_ledger__files') }}
),

final as (
    select
        file_number,
        file_hash,
        file_name,
        feed,
        received_at,
        contract_version,
        status,
        received_count,
        accepted_count,
        known_count,
        quarantined_count,
        refused_count,
        warning_count
    from files
)

select * from final
