{%- set reasons = [
    'after_break', 'data_dip', 'not_yet_taught', 'newcomer', 'long_ago', 'none'
] -%}
with slots as (
    select * from {{ ref('fct_plan_slots') }}
),

lessons as (
    select * from {{ ref('fct_lessons') }}
    where status in ('delivered', 'partly')
),

routines as (
    select * from {{ ref('dim_routines') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

breaks as (
    select * from {{ ref('dim_breaks') }}
    where last_on < {{ as_of_on() }}
),

memberships as (
    select * from {{ ref('dim_memberships') }}
    where role = 'student' and is_member
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and is_elapsed
),

measures as (
    select * from {{ ref('fct_measures_compared') }}
    where level_code = 'class' and measure_name = 'responsiveness'
),

-- The routines that the plan of this term gives to the class.
pairs as (
    select distinct
        slots.school_id,
        slots.class_id,
        slots.routine_id,
        slots.term_id
    from slots
    inner join terms
        on
            slots.school_id = terms.school_id
            and slots.term_id = terms.term_id
),

planned_classes as (
    select distinct
        class_id,
        school_id
    from pairs
),

last_lessons as (
    select
        class_id,
        routine_id,
        max(taught_on) as last_taught_on
    from lessons
    group by class_id, routine_id
),

day_places as (
    select
        class_id,
        day_on,
        row_number() over (
            partition by class_id
            order by day_on desc
        ) as days_back
    from school_days
),

days_since as (
    select
        last_lessons.class_id,
        last_lessons.routine_id,
        count(school_days.day_on) as days_since_taught
    from last_lessons
    left join school_days
        on
            last_lessons.class_id = school_days.class_id
            and last_lessons.last_taught_on < school_days.day_on
    group by last_lessons.class_id, last_lessons.routine_id
),

-- What happened in the last so many days in session: a return from a break, a child who joined.
recent as (
    select
        class_id,
        min(day_on) as recent_from_on
    from day_places
    where days_back <= {{ threshold('last_days') }}
    group by class_id
),

returns as (
    select
        recent.class_id,
        max(breaks.last_on) as break_last_on
    from recent
    inner join planned_classes on recent.class_id = planned_classes.class_id
    inner join breaks
        on
            planned_classes.school_id = breaks.school_id
            and recent.recent_from_on <= breaks.last_on
    group by recent.class_id
),

arrivals as (
    select
        recent.class_id,
        max(memberships.begin_on) as newest_begin_on
    from recent
    inner join memberships
        on
            recent.class_id = memberships.class_id
            and recent.recent_from_on <= memberships.begin_on
    group by recent.class_id
),

next_due as (
    select
        class_id,
        routine_id,
        term_id,
        min(due_on) as next_due_on,
        min_by(lesson_kind, due_on) as next_lesson_kind
    from slots
    where status = 'not_logged'
    group by class_id, routine_id, term_id
),

gathered as (
    select
        pairs.school_id,
        pairs.class_id,
        pairs.routine_id,
        coalesce(routines.routine_name, pairs.routine_id) as routine_name,
        last_lessons.last_taught_on,
        days_since.days_since_taught,
        of_late.value,
        of_late.low,
        of_late.high,
        coalesce(of_late.session_count, 0) as session_count,
        coalesce(of_late.sufficiency, 'none') as sufficiency,
        coalesce(of_late.high_one_sided < {{ threshold('criterion') }}, false)
        and of_late.sufficiency in ('usable', 'solid') as is_below,
        case
            when of_term.previous_sufficiency in ('usable', 'solid') then of_term.previous_value
        end as own_past_value,
        coalesce(last_lessons.last_taught_on <= returns.break_last_on, false) as is_after_break,
        coalesce(last_lessons.last_taught_on < arrivals.newest_begin_on, false) as is_newcomer,
        next_due.next_due_on,
        next_due.next_lesson_kind
    from pairs
    left join routines on pairs.routine_id = routines.routine_id
    left join last_lessons
        on
            pairs.class_id = last_lessons.class_id
            and pairs.routine_id = last_lessons.routine_id
    left join days_since
        on
            pairs.class_id = days_since.class_id
            and pairs.routine_id = days_since.routine_id
    left join measures as of_late
        on
            pairs.class_id = of_late.class_id
            and pairs.routine_id = of_late.routine_id
            and pairs.term_id = of_late.term_id
            and of_late.window_code = 'last_20'
    left join measures as of_term
        on
            pairs.class_id = of_term.class_id
            and pairs.routine_id = of_term.routine_id
            and pairs.term_id = of_term.term_id
            and of_term.window_code = 'term'
    left join returns on pairs.class_id = returns.class_id
    left join arrivals on pairs.class_id = arrivals.class_id
    left join next_due
        on
            pairs.class_id = next_due.class_id
            and pairs.routine_id = next_due.routine_id
            and pairs.term_id = next_due.term_id
),

reasoned as (
    select
        *,
        case
            when last_taught_on is null then 'not_yet_taught'
            when is_after_break then 'after_break'
            when is_below then 'data_dip'
            when is_newcomer then 'newcomer'
            when days_since_taught > {{ threshold('last_days') }} then 'long_ago'
            else 'none'
        end as reason_code
    from gathered
),

shown as (
    select
        class_id,
        routine_id,
        routine_name,
        reason_code,
        last_taught_on,
        cast(days_since_taught as bigint) as days_since_taught,
        round(cast(value as double), 9) as value,
        round(cast(low as double), 9) as low,
        round(cast(high as double), 9) as high,
        cast(session_count as bigint) as session_count,
        sufficiency,
        round(cast(own_past_value as double), 9) as own_past_value,
        next_due_on,
        next_lesson_kind,
        row_number() over (
            partition by class_id
            order by
                case reason_code
                    {%- for reason in reasons %}
                    when '{{ reason }}' then {{ loop.index }}
                    {%- endfor %}
                end,
                next_due_on nulls last,
                routine_name,
                routine_id
        ) as sort_order,
        {{ lineage_columns() }}
    from reasoned
)

select * from shown
