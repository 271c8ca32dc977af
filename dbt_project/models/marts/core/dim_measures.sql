with catalogue as (
    select * from {{ ref('int_rollup_catalogue') }}
),

final as (
    select
        measure_name,
        title,
        question,
        numerator,
        denominator,
        unit,
        minimum_data,
        cannot_say,
        source,
        shape,
        interval_kind,
        sense,
        range_note,
        rests_on,
        level_codes,
        criterion,
        is_by_routine,
        usable_sessions,
        usable_units,
        solid_sessions,
        solid_units
    from catalogue
)

select * from final
