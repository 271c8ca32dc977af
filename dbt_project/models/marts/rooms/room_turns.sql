with turns as (
    select * from {{ ref('fct_turns') }}
    where is_member
),

names as (
    select * from {{ ref('dim_person_names') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'student' and is_member
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

recent_days as (
    select
        class_id,
        day_on,
        row_number() over (
            partition by class_id
            order by day_on desc
        ) as days_back
    from school_days
),

first_days as (
    select
        class_id,
        min(day_on) as first_day_on,
        min(day_on) filter (where days_back <= {{ threshold('last_days') }}) as recent_from_on
    from recent_days
    group by class_id
),

joined as (
    select
        memberships.class_id,
        memberships.person_id as pupil_id,
        max(
            memberships.begin_on > first_days.first_day_on
            and memberships.begin_on >= first_days.recent_from_on
        ) as is_newcomer
    from memberships
    inner join first_days on memberships.class_id = first_days.class_id
    group by memberships.class_id, memberships.person_id
),

measured as (
    select
        turns.class_id,
        turns.pupil_id,
        names.given_name,
        names.family_initial,
        turns.term_id,
        cast(turns.offered_count as bigint) as offered,
        cast(turns.taken_count as bigint) as taken,
        cast(turns.present_draw_count as bigint) as present_draws,
        round(cast(turns.expected_count as double), 9) as expected,
        cast(turns.open_wait_days as bigint) as open_wait_days,
        cast(turns.longest_wait_days as bigint) as longest_wait_days,
        turns.last_turn_on,
        turns.is_draw_eligible as is_eligible,
        turns.is_waiting,
        coalesce(joined.is_newcomer, false) as is_newcomer,
        {{ nine_places('cast(turns.expected_count - turns.offered_count as double)') }}
            as queue_position_basis
    from turns
    inner join terms
        on
            turns.school_id = terms.school_id
            and turns.term_id = terms.term_id
    left join joined
        on
            turns.class_id = joined.class_id
            and turns.pupil_id = joined.pupil_id
    left join names on turns.pupil_id = names.person_id
),

shown as (
    select
        *,
        row_number() over (
            partition by class_id
            order by
                is_eligible desc,
                is_waiting desc,
                queue_position_basis desc,
                open_wait_days desc nulls last,
                pupil_id asc
        ) as queue_position,
        {{ lineage_columns() }}
    from measured
)

select * from shown
