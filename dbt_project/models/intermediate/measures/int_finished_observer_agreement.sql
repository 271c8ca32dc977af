with agreement as (
    select * from {{ ref('int_agreement') }}
    where measure_kind = 'moment'
),

placed as (
    select
        *,
        'school' as level_code,
        '*' as class_id,
        '*' as grade_code,
        '*' as routine_id
    from agreement
),

-- Looks of one visit are alike: the range is for as many as they are worth.
ranged as (
    select
        *,
        {{ effective_count('compared_count', 'pair_session_count', threshold('design_rho')) }}
            as trials
    from placed
),

final as (
    select
        {{ finished_row(
            value='max(agreement_rate)',
            numerator='max(agreement_rate * compared_count)',
            denominator='max(compared_count)',
            sessions='max(pair_session_count)',
            days='max(day_count)',
            units='max(compared_count)',
            classes='max(class_count)',
            low=wilson_low('max(agreement_rate * trials)', 'max(trials)', threshold('ci_level')),
            high=wilson_high('max(agreement_rate * trials)', 'max(trials)', threshold('ci_level'))
        ) }}
    from ranged
    group by {{ finished_keys() }}
)

select * from final
