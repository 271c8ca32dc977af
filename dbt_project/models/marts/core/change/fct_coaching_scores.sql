with cycles as (
    select * from {{ ref('fct_coaching_cycles') }}
    where coaching_first_on is not null
),

series as (
    select * from {{ ref('fct_class_series') }}
),

changes as (
    select * from {{ ref('dim_named_changes') }}
),

-- What is compared lies between the named change before the start and the one after it: another
-- wording, another teacher or the next coaching would be compared along with this one.
stretches as (
    select
        cycles.cycle_id,
        cycles.class_id,
        cycles.routine_id,
        cycles.coaching_first_on,
        case cycles.goal_measure
            {%- for name in series_measures() %}
            when '{{ name }}' then '{{ name }}'
            {%- endfor %}
            else 'responsiveness'
        end as measure_name,
        max(changes.changed_on) filter (where changes.changed_on < cycles.coaching_first_on)
            as compared_from_on,
        min(changes.changed_on) filter (where changes.changed_on > cycles.coaching_first_on)
            as compared_until_on
    from cycles
    left join changes
        on
            cycles.class_id = changes.class_id
            and changes.routine_id in (coalesce(cycles.routine_id, '*'), '*')
    group by
        cycles.cycle_id,
        cycles.class_id,
        cycles.routine_id,
        cycles.coaching_first_on,
        cycles.goal_measure
),

scores as (
    select
        stretches.cycle_id,
        series.visit_id,
        series.observed_on,
        row_number() over (
            partition by stretches.cycle_id
            order by series.observed_on, series.visit_number, series.visit_id
        ) as visit_number,
        stretches.measure_name,
        stretches.compared_from_on,
        stretches.compared_until_on,
        series.observed_on >= stretches.coaching_first_on as is_after,
        series.score
    from stretches
    inner join series
        on
            stretches.class_id = series.class_id
            and stretches.measure_name = series.measure_name
            and coalesce(stretches.routine_id, series.routine_id) = series.routine_id
            and series.observed_on >= coalesce(stretches.compared_from_on, series.observed_on)
            and series.observed_on
            < coalesce(stretches.compared_until_on, series.observed_on + interval 1 day)
)

select * from scores
