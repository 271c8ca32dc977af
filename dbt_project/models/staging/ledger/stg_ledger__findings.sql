with source as (
    select * from {{ source('ledger', 'findings') }}
),

renamed as (
    select
        file_hash,

        feed,
        file_name,
        column_name,
        rule_name,
        verdict,
        message,
        remedy,

        line_number
    from source
)

select * from renamed
