with errors as (
    select * from {{ ref('int_class_errors') }}
),

spread as (
    select * from {{ ref('fct_class_spread') }}
    where is_enough
),

joined as (
    select
        errors.*,
        spread.class_count,
        spread.school_mean,
        spread.school_mean_error,
        spread.class_sd,
        {{ shrink_weight('errors.error_variance', 'spread.class_sd * spread.class_sd') }} as weight,
        {{ shrink_estimate(
            'errors.value', 'errors.error_variance',
            'spread.school_mean', 'spread.class_sd * spread.class_sd'
        ) }} as pooled_value,
        {{ shrink_sd('errors.error_variance', 'spread.class_sd * spread.class_sd') }} as class_part
    from errors
    inner join spread
        on
            errors.school_id = spread.school_id
            and errors.routine_id = spread.routine_id
            and errors.term_id = spread.term_id
            and errors.measure_name = spread.measure_name
),

-- The more a class leans on the school's mean, the more that mean's own error is its error too.
widened as (
    select
        *,
        sqrt(class_part * class_part + power((1.0 - weight) * school_mean_error, 2)) as pooled_sd
    from joined
),

ranged as (
    select
        *,
        pooled_value - {{ two_sided_z(threshold('ci_level')) }} * pooled_sd as low,
        pooled_value + {{ two_sided_z(threshold('ci_level')) }} * pooled_sd as high
    from widened
),

final as (
    select
        school_id,
        class_id,
        routine_id,
        term_id,
        measure_name,
        cast(session_count as bigint) as session_count,
        round(value, 9) as value,
        round(sqrt(error_variance), 9) as standard_error,
        cast(class_count as bigint) as class_count,
        school_mean,
        class_sd as tau,
        round(weight, 9) as weight,
        round(pooled_value, 9) as pooled_value,
        round(pooled_sd, 9) as pooled_sd,
        round(case when is_share then greatest(0.0, low) else low end, 9) as pooled_low,
        round(case when is_share then least(1.0, high) else high end, 9) as pooled_high,
        {{ as_of_on() }} as as_of_on,
        '{{ var("build_id") }}' as build_id
    from ranged
)

select * from final
