with findings as (
    select * from {{ ref('fct_findings') }}
),

shown as (
    select
        cast(
            row_number() over (
                order by
                    file_hash, feed, file_name, line_number, rule_name, column_name, message
            ) as string
        ) as finding_id,
        '{{ var("school_id") }}' as school_id,
        file_hash,
        coalesce(feed, 'unknown') as feed,
        file_name,
        cast(line_number as bigint) as line_number,
        column_name,
        rule_name,
        verdict,
        message,
        remedy
    from findings
)

select * from shown
