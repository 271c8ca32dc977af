with findings as (
    select * from {{ ref('stg_ledger__findings') }}
),

final as (
    select
        file_hash,
        feed,
        file_name,
        line_number,
        column_name,
        rule_name,
        verdict,
        message,
        remedy
    from findings
)

select * from final
