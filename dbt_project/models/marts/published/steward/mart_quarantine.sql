with quarantine as (
    select * from {{ ref('fct_quarantine') }}
),

findings as (
    select * from {{ ref('fct_findings') }}
    where verdict = 'quarantine'
),

masked as (
    select * from {{ ref('fct_messages_masked') }}
),

reasons as (
    select
        file_hash,
        feed,
        file_name,
        line_number,
        status,
        can_release,
        received_at,
        decided_at,
        decided_by,
        {{ each_part('rule_names') }} as rule_name
    from quarantine
),

-- The first finding of a rule on a line speaks for it; a rule may speak of several columns.
told as (
    select
        file_hash,
        feed,
        file_name,
        line_number,
        rule_name,
        min(column_name) as column_name,
        min(message) as message,
        min(remedy) as remedy
    from findings
    group by file_hash, feed, file_name, line_number, rule_name
),

shown as (
    select
        cast(
            row_number() over (
                order by
                    reasons.file_hash, reasons.feed, reasons.file_name, reasons.line_number,
                    reasons.rule_name
            ) as string
        ) as quarantine_id,
        {{ ledger_school() }} as school_id,
        reasons.file_hash,
        reasons.feed,
        reasons.file_name,
        cast(reasons.line_number as bigint) as line_number,
        reasons.rule_name,
        told.column_name,
        coalesce(masked.told_message, told.message) as message,
        told.remedy,
        reasons.can_release,
        reasons.status,
        reasons.received_at,
        reasons.decided_at,
        reasons.decided_by
    from reasons
    left join told
        on
            reasons.file_hash = told.file_hash
            and reasons.feed = told.feed
            and reasons.file_name = told.file_name
            and reasons.line_number = told.line_number
            and reasons.rule_name = told.rule_name
    left join masked on told.message = masked.message
)

select * from shown
