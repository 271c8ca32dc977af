with grid as (
    select * from {{ ref('int_rollup_grid') }}
),

figures as (
    select * from {{ ref('int_rollup_figures') }}
    where window_code != 'week'
),

attached as (
    select
        grid.*,
        figures.detail,
        figures.day_count,
        figures.thin_count,
        figures.numerator_count,
        figures.denominator_count,
        figures.value,
        figures.low,
        figures.high,
        figures.low_one_sided,
        figures.high_one_sided,
        figures.standard_error,
        figures.spread_df,
        coalesce(figures.session_count, 0) as session_count,
        coalesce(figures.class_count, 0) as class_count,
        coalesce(figures.unit_count, 0) as unit_count
    from grid
    left join figures
        on
            grid.school_id = figures.school_id
            and grid.level_code = figures.level_code
            and grid.class_id = figures.class_id
            and grid.grade_code = figures.grade_code
            and grid.tier_code = figures.tier_code
            and grid.routine_id = figures.routine_id
            and grid.term_id = figures.term_id
            and grid.window_code = figures.window_code
            and grid.measure_name = figures.measure_name
),

judged as (
    select
        *,
        {{ sufficiency() }} as sufficiency
    from attached
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
        window_code,
        measure_name,
        sufficiency,
        {{ status_word() }} as status,
        detail,
        round(standard_error, 9) as standard_error,
        round(spread_df, 9) as spread_df,
        {{ measure_row() }}
    from judged
)

select * from final
