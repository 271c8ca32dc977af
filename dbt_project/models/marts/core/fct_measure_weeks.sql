with figures as (
    select * from {{ ref('int_rollup_figures') }}
    where window_code = 'week'
),

catalogue as (
    select * from {{ ref('int_rollup_catalogue') }}
),

described as (
    select
        figures.*,
        catalogue.criterion,
        catalogue.has_days,
        catalogue.usable_sessions,
        catalogue.usable_units,
        catalogue.solid_sessions,
        catalogue.solid_units
    from figures
    inner join catalogue on figures.measure_name = catalogue.measure_name
    where figures.routine_id = '*' or catalogue.is_by_routine
),

judged as (
    select
        *,
        {{ sufficiency() }} as sufficiency
    from described
),

final as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        week_first_on,
        measure_name,
        sufficiency,
        {{ status_word() }} as status,
        detail,
        {{ measure_row() }}
    from judged
)

select * from final
