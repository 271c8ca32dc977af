with statistics as (
    select * from {{ ref('int_audit_statistics') }}
),

queue as (
    select * from {{ ref('int_audit_queue') }}
),

looks as (
    select * from {{ ref('int_audit_first') }}
    union all
    select * from {{ ref('int_audit_more') }}
),

summed as (
    select
        audit_id,
        cast(sum(simulation_count) as bigint) as simulation_count,
        cast(sum(above_count) as bigint) as above_count,
        cast(sum(same_count) as bigint) as same_count,
        sum(statistic_sum) / sum(simulation_count) as expected_statistic
    from looks
    group by audit_id
),

chance as (
    select
        statistics.class_id,
        statistics.term_id,
        statistics.method,
        statistics.turn_count,
        statistics.pupil_count,
        cast(null as bigint) as passed_over_count,
        statistics.statistic,
        summed.expected_statistic,
        coalesce(summed.simulation_count, 0) as simulation_count,
        {{ monte_carlo_p(
            'summed.above_count + summed.same_count', 'summed.simulation_count'
        ) }} as p,
        {{ split_monte_carlo_p(
            'summed.above_count', 'summed.same_count', 'summed.simulation_count',
            uniform_draw([threshold('audit_seed'), 'statistics.audit_id', "'ties'"])
        ) }} as p_ties_split
    from statistics
    left join summed on statistics.audit_id = summed.audit_id
),

by_queue as (
    select
        class_id,
        term_id,
        method,
        turn_count,
        cast(null as bigint) as pupil_count,
        passed_over_count,
        cast(null as double) as statistic,
        cast(null as double) as expected_statistic,
        cast(0 as bigint) as simulation_count,
        cast(null as double) as p,
        cast(null as double) as p_ties_split
    from queue
),

together as (
    select * from chance
    union all
    select * from by_queue
),

judged as (
    select
        class_id,
        term_id,
        method,
        case
            when turn_count < {{ threshold('audit_min_turns') }} then 'too_few'
            when p <= {{ threshold('audit_level') }} then 'look_at_the_box'
            when
                passed_over_count > {{ threshold('queue_passed_share') }} * turn_count
                then 'look_at_the_box'
            else 'as_declared'
        end as verdict_code,
        turn_count,
        pupil_count,
        passed_over_count,
        round(cast(statistic as double), 9) as statistic,
        round(cast(expected_statistic as double), 9) as expected_statistic,
        simulation_count,
        cast({{ threshold('audit_seed') }} as bigint) as seed,
        round(cast(p as double), 9) as p,
        round(cast(p_ties_split as double), 9) as p_ties_split
    from together
)

select * from judged
