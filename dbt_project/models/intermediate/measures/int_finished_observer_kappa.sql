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
        '*' as routine_id,
        {{ kappa_limit('-') }} as kappa_low,
        {{ kappa_limit('+') }} as kappa_high
    from agreement
),

final as (
    select
        {{ finished_row(
            value='max(kappa)',
            numerator='max(agreement_rate * compared_count)',
            denominator='max(compared_count)',
            sessions='max(pair_session_count)',
            days='max(day_count)',
            units='max(compared_count)',
            classes='max(class_count)',
            low='max(kappa_low)',
            high='max(kappa_high)'
        ) }}
    from placed
    group by {{ finished_keys() }}
)

select * from final
