with files as (
    select * from {{ ref('fct_files') }}
),

quarantine as (
    select * from {{ ref('fct_quarantine') }}
),

held as (
    select
        file_hash,
        file_name,
        feed,
        count(*) as held_count
    from quarantine
    where status = 'held'
    group by file_hash, file_name, feed
),

-- A file that came again holds its rows once: they stand beside its latest receipt.
latest as (
    select max(file_number) as file_number
    from files
    group by file_hash, file_name, feed
),

shown as (
    select
        {{ ledger_school() }} as school_id,
        files.file_number,
        files.file_hash,
        coalesce(files.feed, 'unknown') as feed,
        files.file_name,
        files.received_at,
        cast(files.received_at as date) as received_on,
        files.contract_version,
        files.status,
        cast(files.received_count as bigint) as received_count,
        cast(files.accepted_count as bigint) as accepted_count,
        cast(files.known_count as bigint) as known_count,
        cast(files.quarantined_count as bigint) as quarantined_count,
        cast(files.refused_count as bigint) as refused_count,
        cast(files.warning_count as bigint) as warning_count,
        case
            when latest.file_number is null then 0
            else coalesce(held.held_count, 0)
        end as held_count,
        files.received_count
        = files.accepted_count + files.known_count
        + files.quarantined_count + files.refused_count as is_balanced
    from files
    left join latest on files.file_number = latest.file_number
    left join held
        on
            files.file_hash = held.file_hash
            and files.file_name = held.file_name
            and files.feed = held.feed
)

select * from shown
