with visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted and not is_substitute
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

measure_names as (
    {%- for name in offer_measures() %}
    select '{{ name }}' as measure_name
    {%- if not loop.last %}
    union all
    {%- endif %}
    {%- endfor %}
),

-- One score a visit: two who watched together are one visit.
scores as (
    select
        visits.class_id,
        visits.routine_id,
        measure_names.measure_name,
        visits.visit_id,
        min(visits.observed_on) as observed_on,
        avg({{ session_score('measure_names.measure_name', 'visits') }}) as score
    from visits
    inner join terms
        on
            visits.school_id = terms.school_id
            and visits.term_id = terms.term_id
    cross join measure_names
    where visits.routine_id is not null
    group by visits.class_id, visits.routine_id, measure_names.measure_name, visits.visit_id
),

spans as (
    select
        class_id,
        routine_id,
        measure_name,
        max(observed_on) as newest_on,
        min(observed_on) filter (where score < {{ threshold('criterion') }}) as first_below_on,
        max(observed_on) filter (where score < {{ threshold('criterion') }}) as newest_below_on
    from scores
    where score is not null
    group by class_id, routine_id, measure_name
),

-- Under the line at two reviews: visits a review apart, the newest visit among them.
shown as (
    select
        class_id,
        routine_id,
        measure_name,
        newest_on,
        coalesce(
            newest_below_on = newest_on
            and {{ days_between('first_below_on', 'newest_below_on') }}
            >= {{ threshold('review_days') }},
            false
        ) as is_lasting
    from spans
)

select * from shown
