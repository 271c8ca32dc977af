with routines as (
    select * from {{ ref('dim_routines') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

weakest_steps as (
    select * from {{ ref('fct_weakest_steps') }}
),

measures as (
    select * from {{ ref('fct_measures_compared') }}
    where
        level_code = 'school'
        and window_code = 'term'
        and reason is null
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

this_term as (
    select
        measures.school_id,
        measures.routine_id,
        max(measures.value) filter (where measures.measure_name = 'voice_bias') as voice_bias,
        max(measures.value) filter (where measures.measure_name = 'cycle_completion')
            as cycle_completion_rate
    from measures
    inner join terms
        on
            measures.school_id = terms.school_id
            and measures.term_id = terms.term_id
    group by measures.school_id, measures.routine_id
),

shown as (
    select
        schools.school_id,
        routines.routine_id,
        cast(routines.version as bigint) as version,
        routines.routine_name as name,
        routines.expectation,
        routines.setting,
        routines.tier_code as tier,
        routines.kind,
        cast(routines.expected_voice_level as bigint) as expected_voice_level,
        cast(routines.target_seconds as bigint) as target_seconds,
        routines.grade_codes,
        routines.accepted_alternatives,
        cast(routines.step_count as bigint) as step_count,
        row_number() over (
            partition by schools.school_id
            order by routines.tier_code, routines.routine_name, routines.routine_id
        ) as sort_order,
        cast(weakest_steps.step_number as bigint) as weakest_step_number,
        weakest_steps.step_text as weakest_step_text,
        round(weakest_steps.done_rate, 9) as weakest_step_rate,
        cast(weakest_steps.done_count as bigint) as weakest_step_done_count,
        cast(weakest_steps.scored_count as bigint) as weakest_step_scored_count,
        cast(weakest_steps.session_count as bigint) as weakest_step_session_count,
        coalesce(weakest_steps.sufficiency, 'none') as weakest_step_sufficiency,
        round(this_term.voice_bias, 9) as voice_bias,
        round(all_turns.cycle_completion_rate, 9) as cycle_completion_rate,
        {{ lineage_columns() }}
    from routines
    cross join schools
    left join weakest_steps
        on
            schools.school_id = weakest_steps.school_id
            and routines.routine_id = weakest_steps.routine_id
    left join this_term
        on
            schools.school_id = this_term.school_id
            and routines.routine_id = this_term.routine_id
    -- Draws belong to the class, not to one routine; only the turns routine shows them.
    left join this_term as all_turns
        on
            schools.school_id = all_turns.school_id
            and all_turns.routine_id = '*'
            and routines.kind = 'turns'
)

select * from shown
