with decisions as (
    select * from {{ ref('fct_offer_decisions') }}
),

series as (
    select * from {{ ref('fct_class_series') }}
),

placed as (
    select
        decisions.decision_id,
        series.visit_id,
        series.observed_on,
        series.score,
        series.observed_on > decisions.decided_on as is_later,
        row_number() over (
            partition by decisions.decision_id, series.observed_on > decisions.decided_on
            order by series.visit_number desc
        ) as visits_back
    from decisions
    inner join series
        on
            decisions.class_id = series.class_id
            and decisions.routine_id = series.routine_id
            and decisions.measure_name = series.measure_name
            and decisions.compared_from_on <= series.observed_on
            and decisions.compared_until_on > series.observed_on
),

-- The newest visits that the meeting had before it, and all that have been made since.
compared as (
    select
        decision_id,
        visit_id,
        observed_on,
        is_later,
        score
    from placed
    where is_later or visits_back <= {{ threshold('solid_sessions') }}
)

select * from compared
