with class_lines as (
    select * from {{ ref('fct_offer_class_lines') }}
    where reader_code = 'team'
),

matter_lines as (
    select * from {{ ref('fct_offer_matter_lines') }}
),

matters as (
    select
        *,
        cast(null as string) as class_id,
        cast(null as string) as class_title,
        'offer' as state_code,
        'held_on' as review_state,
        cast(null as string) as why_not,
        'below_line' as reason_codes,
        cast(1 as bigint) as sign_count,
        cast(null as bigint) as observer_count,
        'teach_again' as next_step_code,
        true as shows_it,
        cast(null as date) as opened_on,
        cast(null as bigint) as review_count,
        cast(null as double) as p_value,
        cast(null as double) as adjusted_p,
        cast(null as bigint) as tested_count,
        cast(null as bigint) as under_session_count,
        cast(null as date) as first_under_on,
        cast(null as date) as newest_on,
        cast(null as bigint) as since_session_count,
        cast(null as double) as since_value,
        cast(null as string) as closing_code,
        cast(null as double) as closing_value,
        cast(null as bigint) as closing_session_count
    from matter_lines
),

together as (
    select {{ offer_line_columns() }}
    from class_lines
    union all
    select {{ offer_line_columns() }}
    from matters
)

select * from together
