{%- set figures = [
    'numerator_count', 'denominator_count', 'value', 'low', 'high', 'high_one_sided',
    'previous_value',
] -%}
with states as (
    select * from {{ ref('fct_offer_states') }}
),

visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted
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
)

select * from class_lines
