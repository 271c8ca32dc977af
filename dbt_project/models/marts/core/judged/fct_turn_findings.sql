with cycles as (
    select * from {{ ref('fct_cycle_findings') }}
),

newcomers as (
    select * from {{ ref('fct_newcomer_findings') }}
),

draws as (
    select * from {{ ref('fct_draw_findings') }}
),

together as (
    select * from cycles
    union all
    select * from newcomers
    union all
    select * from draws
),

listed as (
    select
        class_id,
        term_id,
        check_name,
        counted_thing,
        finding_count,
        checked_count,
        limit_days,
        first_found_on,
        last_found_on
    from together
)

select * from listed
