{%- set figures = [
    'numerator_count', 'denominator_count', 'value', 'low', 'high', 'high_one_sided',
    'previous_value',
] -%}
with states as (
    select * from {{ ref('fct_offer_states') }}
),

matters as (
    select * from {{ ref('fct_offer_matters') }}
),

measures as (
    select * from {{ ref('fct_measures_compared') }}
    where
        level_code in ('school', 'grade')
        and window_code = 'term'
        and reason is null
),

visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted
),

school_days as (
    select * from {{ ref('dim_school_days') }}
    where is_in_session and day_on > {{ as_of_on() }}
),

lessons as (
    select * from {{ ref('fct_lessons') }}
    where
        status in ('delivered', 'partly')
        and taught_on > cast(
            {{ as_of_on() }} - interval {{ threshold('review_days') }} day as date
        )
),

fidelity as (
    select * from {{ ref('fct_measures_compared') }}
    where
        level_code = 'class'
        and window_code = 'term'
        and measure_name = 'fidelity'
),

next_days as (
    select
        school_id,
        min(day_on) as next_review_on
    from school_days
    group by school_id
),

observers as (
    select
        class_id,
        routine_id,
        term_id,
        count(distinct observer_id) as observer_count
    from visits
    group by class_id, routine_id, term_id
),

taught as (
    select distinct
        class_id,
        routine_id
    from lessons
),

class_lines as (
    select
        'class:' || states.class_id || ':' || states.routine_id || ':' || states.term_id
            as offer_id,
        states.school_id,
        'class' as level_code,
        states.class_id,
        states.class_title,
        split_part(states.grade_codes, ';', 1) as grade_code,
        states.routine_id,
        states.term_id,
        states.measure_name,
        states.state_code,
        case when states.state_code = 'waiting' then 'capacity' else states.why_not end as why_not,
        nullif(
            concat_ws(
                ';',
                case when states.is_below then 'below_line' end,
                case when states.is_below and states.is_below_twice then 'second_side' end,
                case when states.is_below and states.is_down then 'down_on_last_term' end,
                case when states.is_lasting then 'lasting' end
            ),
            ''
        ) as reason_codes,
        states.sign_count,
        {%- for figure in figures %}
        states.{{ figure }},
        {%- endfor %}
        states.session_count,
        states.day_count,
        observers.observer_count,
        states.previous_sufficiency,
        fidelity.weakest_dimension,
        case when states.is_readable then states.status else 'too_little' end as sureness,
        case
            when not states.is_readable then 'look_again'
            when not states.shows_it then null
            when states.measure_name = 'adherence' then 'practise_step'
            when taught.class_id is null then 'teach_again'
            else 'booster'
        end as next_step_code,
        states.shows_it,
        states.next_review_on,
        cast(null as bigint) as shown_class_count,
        cast(null as bigint) as class_count
    from states
    left join observers
        on
            states.class_id = observers.class_id
            and states.routine_id = observers.routine_id
            and states.term_id = observers.term_id
    left join fidelity
        on
            states.class_id = fidelity.class_id
            and states.routine_id = fidelity.routine_id
            and states.term_id = fidelity.term_id
    left join taught
        on
            states.class_id = taught.class_id
            and states.routine_id = taught.routine_id
),

matter_lines as (
    select
        matters.level_code || ':' || matters.grade_code || ':' || matters.routine_id
        || ':' || matters.term_id as offer_id,
        matters.school_id,
        matters.level_code,
        cast(null as string) as class_id,
        cast(null as string) as class_title,
        nullif(matters.grade_code, '*') as grade_code,
        matters.routine_id,
        matters.term_id,
        matters.measure_name,
        'offer' as state_code,
        cast(null as string) as why_not,
        'below_line' as reason_codes,
        cast(1 as bigint) as sign_count,
        {%- for figure in figures %}
        measures.{{ figure }},
        {%- endfor %}
        coalesce(measures.session_count, 0) as session_count,
        coalesce(measures.day_count, 0) as day_count,
        cast(null as bigint) as observer_count,
        measures.previous_sufficiency,
        measures.weakest_dimension,
        coalesce(measures.status, 'too_little') as sureness,
        'teach_again' as next_step_code,
        true as shows_it,
        next_days.next_review_on,
        matters.shown_class_count,
        matters.class_count
    from matters
    left join next_days on matters.school_id = next_days.school_id
    left join measures
        on
            matters.school_id = measures.school_id
            and matters.level_code = measures.level_code
            and matters.grade_code = measures.grade_code
            and matters.routine_id = measures.routine_id
            and matters.term_id = measures.term_id
            and matters.measure_name = measures.measure_name
),

together as (
    select * from class_lines
    union all
    select * from matter_lines
)

select * from together
