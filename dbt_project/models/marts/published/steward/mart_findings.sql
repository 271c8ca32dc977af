with findings as (
    select * from {{ ref('fct_findings') }}
),

masked as (
    select * from {{ ref('fct_messages_masked') }}
),

-- A message may name a child's key; the line and the column say where to look.
told as (
    select
        findings.*,
        coalesce(masked.told_message, findings.message) as told_message
    from findings
    left join masked on findings.message = masked.message
),

shown as (
    select
        cast(
            row_number() over (
                order by
                    file_hash, feed, file_name, line_number, rule_name, column_name, message
            ) as string
        ) as finding_id,
        {{ ledger_school() }} as school_id,
        file_hash,
        coalesce(feed, 'unknown') as feed,
        file_name,
        cast(line_number as bigint) as line_number,
        column_name,
        rule_name,
        verdict,
        told_message as message,
        remedy
    from told
)

select * from shown
