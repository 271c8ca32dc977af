with measures as (
    select * from {{ ref('fct_measures_by_group') }}
    where
        level_code in ('school', 'grade')
        and is_by_routine
        and not is_over_children
        and (value is not null or coalesce(denominator_count, 0) > 0)
),

-- Routines add up to all routines, grades to the school: a table for each measure and window. A
-- grade that is withheld as a whole may be so alone; its figures of few classes need company too.
cells as (
    select
        school_id,
        term_id,
        window_code,
        measure_name,
        routine_id,
        grade_code,
        coalesce(denominator_count, session_count) as look_count,
        group_reason is not null as is_gone,
        own_reason
    from measures
),

withheld as (
    {{ cell_suppression(
        'cells',
        ['school_id', 'term_id', 'window_code', 'measure_name'],
        'routine_id',
        'grade_code',
        'look_count',
        'own_reason',
        'is_gone'
    ) | indent(4) }}
)

select * from withheld
