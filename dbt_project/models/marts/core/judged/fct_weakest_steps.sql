with step_results as (
    select * from {{ ref('fct_step_results') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

steps as (
    select * from {{ ref('dim_routine_steps') }}
),

measures as (
    select * from {{ ref('fct_measures_judged') }}
    where
        level_code = 'school'
        and window_code = 'term'
        and measure_name = 'adherence'
        and reason is null
),

-- Only the wording in use: a step of an older one may no longer exist. A step that was scored in
-- one class or two is not spoken of.
counted as (
    select
        step_results.school_id,
        step_results.routine_id,
        step_results.term_id,
        step_results.version,
        step_results.step_number,
        cast(sum(step_results.done_count) as bigint) as done_count,
        cast(sum(step_results.done_count + step_results.not_done_count) as bigint)
            as scored_count,
        count(
            distinct case
                when step_results.done_count + step_results.not_done_count > 0
                    then step_results.class_id
            end
        ) as scored_class_count
    from step_results
    inner join terms
        on
            step_results.school_id = terms.school_id
            and step_results.term_id = terms.term_id
            and terms.is_current
    inner join routines
        on
            step_results.routine_id = routines.routine_id
            and step_results.version = routines.version
    group by
        step_results.school_id,
        step_results.routine_id,
        step_results.term_id,
        step_results.version,
        step_results.step_number
),

lowest as (
    select
        *,
        row_number() over (
            partition by school_id, routine_id
            order by done_count / nullif(cast(scored_count as double), 0) nulls last, step_number
        ) as place
    from counted
    where scored_class_count >= {{ few_classes() }}
),

shown as (
    select
        lowest.school_id,
        lowest.routine_id,
        lowest.step_number,
        steps.step_text,
        lowest.done_count,
        lowest.scored_count,
        lowest.done_count / cast(lowest.scored_count as double) as done_rate,
        measures.session_count,
        measures.sufficiency
    from lowest
    inner join steps
        on
            lowest.routine_id = steps.routine_id
            and lowest.version = steps.version
            and lowest.step_number = steps.step_number
    inner join measures
        on
            lowest.school_id = measures.school_id
            and lowest.routine_id = measures.routine_id
            and lowest.term_id = measures.term_id
    where lowest.place = 1
)

select * from shown
