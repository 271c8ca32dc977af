with quarantine as (
    select * from {{ ref('stg_ledger__quarantine') }}
),

final as (
    select
        file_hash,
        feed,
        file_name,
        line_number,
        rule_names,
        status,
        can_release,
        received_at,
        decided_at,
        decided_by
    from quarantine
)

select * from final
