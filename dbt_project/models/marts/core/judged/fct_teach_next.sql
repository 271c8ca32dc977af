with slots as (
    select * from {{ ref('fct_plan_slots') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

last_lessons as (
    select * from {{ ref('fct_last_lessons') }}
),

recent as (
    select * from {{ ref('fct_recent_arrivals') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
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
    inner join classes on slots.class_id = classes.class_id
    inner join terms
        on
            slots.school_id = terms.school_id
            and slots.term_id = terms.term_id
),

next_due as (
    select
        class_id,
        routine_id,
        term_id,
        min(due_on) as next_due_on,
        min_by(lesson_kind, {{ in_turn(['due_on', 'slot_id']) }}) as next_lesson_kind
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
        last_lessons.days_since_taught,
        of_late.value,
        of_late.low,
        of_late.high,
        coalesce(of_late.session_count, 0) as session_count,
        coalesce(of_late.sufficiency, 'none') as sufficiency,
        coalesce({{ falls_short('of_late.high_one_sided', threshold('criterion')) }}, false)
        and of_late.sufficiency in ('usable', 'solid') as is_below,
        case
            when of_term.previous_sufficiency in ('usable', 'solid') then of_term.previous_value
        end as own_past_value,
        coalesce(last_lessons.last_taught_on <= recent.break_last_on, false) as is_after_break,
        coalesce(last_lessons.last_taught_on < recent.newest_begin_on, false) as is_newcomer,
        next_due.next_due_on,
        next_due.next_lesson_kind
    from pairs
    left join routines on pairs.routine_id = routines.routine_id
    left join last_lessons
        on
            pairs.class_id = last_lessons.class_id
            and pairs.routine_id = last_lessons.routine_id
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
    left join recent on pairs.class_id = recent.class_id
    left join next_due
        on
            pairs.class_id = next_due.class_id
            and pairs.routine_id = next_due.routine_id
            and pairs.term_id = next_due.term_id
)

select * from gathered
