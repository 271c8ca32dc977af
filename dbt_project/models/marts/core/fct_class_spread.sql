with errors as (
    select * from {{ ref('int_class_errors') }}
),

spread as (
    {{ between_spread(
        'errors', ['school_id', 'routine_id', 'term_id', 'measure_name'], 'value', 'error_variance'
    ) | indent(4) }}
),

-- What chance alone would spread: a funnel around the mean that weighs classes by their visits.
placed as (
    select
        errors.*,
        spread.tau2,
        abs(errors.value - spread.fixed_mean)
        > {{ funnel_normal('0.0', 'sqrt(errors.error_variance)', '0.975') }} as is_outside
    from errors
    inner join spread
        on
            errors.school_id = spread.school_id
            and errors.routine_id = spread.routine_id
            and errors.term_id = spread.term_id
            and errors.measure_name = spread.measure_name
),

-- The school's mean has each class once, as everywhere; its error: chance, and which classes.
schools as (
    select
        school_id,
        routine_id,
        term_id,
        measure_name,
        avg(value) as school_mean,
        sqrt(sum(error_variance + coalesce(tau2, 0.0))) / count(*) as school_mean_error,
        max(visit_variance) as visit_variance,
        max(visit_df) as visit_df,
        sum(session_count) as session_count,
        sum(case when is_outside then 1 else 0 end) as outside_count
    from placed
    group by school_id, routine_id, term_id, measure_name
),

tested as (
    select
        schools.*,
        spread.unit_count as class_count,
        spread.q,
        spread.q_df,
        spread.phi,
        spread.tau2,
        spread.unit_count >= {{ threshold('pooled_classes') }} as is_enough,
        case
            when spread.unit_count >= {{ threshold('pooled_classes') }}
                then {{ f_upper('spread.phi', 'spread.q_df', 'schools.visit_df') }}
        end as own_p
    from schools
    inner join spread
        on
            schools.school_id = spread.school_id
            and schools.routine_id = spread.routine_id
            and schools.term_id = spread.term_id
            and schools.measure_name = spread.measure_name
),

-- The spread between visits is itself an estimate: F, not chi-square. One review looks at every
-- measure and routine of a term at once.
reviewed as (
    {{ benjamini_hochberg('tested', ['school_id', 'term_id'], 'own_p') | indent(4) }}
),

final as (
    select
        school_id,
        routine_id,
        term_id,
        measure_name,
        cast(class_count as bigint) as class_count,
        cast(session_count as bigint) as session_count,
        is_enough,
        round(school_mean, 9) as school_mean,
        round(school_mean_error, 9) as school_mean_error,
        round(sqrt(visit_variance), 9) as visit_sd,
        cast(visit_df as bigint) as visit_df,
        case when is_enough then round(sqrt(tau2), 9) end as class_sd,
        case when is_enough then round(tau2 / (tau2 + visit_variance), 9) end as between_share,
        case when is_enough then round(q, 9) end as q,
        case when is_enough then cast(q_df as bigint) end as q_df,
        case when is_enough then round(phi, 9) end as phi,
        round(own_p, 9) as p,
        round(adjusted_p, 9) as adjusted_p,
        case
            when not is_enough then 'too_few'
            when adjusted_p <= {{ threshold('offer_false_share') }} then 'beyond_chance'
            else 'within_chance'
        end as spread_code,
        case when is_enough then cast(class_count - outside_count as bigint) end as inside_count,
        case when is_enough then cast(outside_count as bigint) end as outside_count,
        {{ as_of_on() }} as as_of_on,
        '{{ var("build_id") }}' as build_id
    from reviewed
)

select * from final
