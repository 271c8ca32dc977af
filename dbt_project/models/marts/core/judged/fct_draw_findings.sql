with draws as (
    select * from {{ ref('fct_draws') }}
    where is_by_lot
),

turns as (
    select * from {{ ref('fct_turns') }}
    where is_draw_eligible
),

paces as (
    select * from {{ ref('fct_turn_paces') }}
),

leavers as (
    select
        class_id,
        term_id,
        'leaver_still_drawn' as check_name,
        'draws' as counted_thing,
        count(*) filter (where not is_member) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        min(drawn_on) filter (where not is_member) as first_found_on,
        max(drawn_on) filter (where not is_member) as last_found_on
    from draws
    where pupil_id is not null
    group by class_id, term_id
),

waits as (
    select
        paces.class_id,
        paces.term_id,
        'long_wait' as check_name,
        'children' as counted_thing,
        count(*) filter (where turns.longest_wait_days > paces.limit_days) as finding_count,
        count(*) as checked_count,
        max(paces.limit_days) as limit_days,
        cast(null as date) as first_found_on,
        cast(null as date) as last_found_on
    from paces
    inner join turns
        on
            paces.class_id = turns.class_id
            and paces.term_id = turns.term_id
            and turns.is_member
    group by paces.class_id, paces.term_id
),

-- Whoever could expect E turns has none by luck with a chance of exp(-E) at most.
undrawn as (
    select
        class_id,
        term_id,
        'never_drawn_in_term' as check_name,
        'children' as counted_thing,
        count(*) filter (where offered_count = 0) as finding_count,
        count(*) as checked_count,
        cast(null as bigint) as limit_days,
        cast(null as date) as first_found_on,
        cast(null as date) as last_found_on
    from turns
    where expected_count >= -ln({{ threshold('wait_chance') }})
    group by class_id, term_id
),

together as (
    select * from leavers
    union all
    select * from waits
    union all
    select * from undrawn
)

select * from together
