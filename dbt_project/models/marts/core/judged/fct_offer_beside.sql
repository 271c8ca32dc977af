with lines as (
    select distinct
        class_id,
        routine_id,
        term_id
    from {{ ref('fct_offer_now') }}
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
    where level_code = 'class' and window_code = 'term' and measure_name = 'fidelity'
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

beside as (
    select
        lines.class_id,
        lines.routine_id,
        lines.term_id,
        observers.observer_count,
        fidelity.weakest_dimension,
        taught.class_id is not null as is_taught_lately
    from lines
    left join observers
        on
            lines.class_id = observers.class_id
            and lines.routine_id = observers.routine_id
            and lines.term_id = observers.term_id
    left join fidelity
        on
            lines.class_id = fidelity.class_id
            and lines.routine_id = fidelity.routine_id
            and lines.term_id = fidelity.term_id
    left join taught
        on
            lines.class_id = taught.class_id
            and lines.routine_id = taught.routine_id
)

select * from beside
