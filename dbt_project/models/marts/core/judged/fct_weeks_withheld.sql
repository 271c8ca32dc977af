with placed as (
    select * from {{ ref('fct_week_insides') }}
),

of_grades as (
    select * from placed
    where level_code = 'grade' and routine_id = '*'
),

of_routines as (
    select * from placed
    where level_code = 'school'
),

-- All routines together: weeks by grades.
grade_cells as (
    {{ cell_suppression(
        'of_grades',
        ['school_id', 'term_id', 'measure_name', 'is_of_last_days'],
        'week_code',
        'grade_code',
        'look_count',
        'own_reason',
        'is_gone',
        keeps_margins=true
    ) | indent(4) }}
),

-- The whole school: weeks by routines.
routine_cells as (
    {{ cell_suppression(
        'of_routines',
        ['school_id', 'term_id', 'measure_name', 'is_of_last_days'],
        'week_code',
        'routine_id',
        'look_count',
        'own_reason',
        'is_gone'
    ) | indent(4) }}
),

judged as (
    select
        placed.school_id,
        placed.level_code,
        placed.grade_code,
        placed.routine_id,
        placed.term_id,
        placed.measure_name,
        placed.week_first_on,
        case
            when placed.is_closed then 'few_classes'
            else coalesce(grade_cells.suppressed_reason, routine_cells.suppressed_reason)
        end as reason
    from placed
    left join grade_cells
        on
            placed.level_code = 'grade'
            and placed.routine_id = '*'
            and placed.school_id = grade_cells.school_id
            and placed.term_id = grade_cells.term_id
            and placed.measure_name = grade_cells.measure_name
            and placed.week_code = grade_cells.week_code
            and placed.grade_code = grade_cells.grade_code
    left join routine_cells
        on
            placed.level_code = 'school'
            and placed.school_id = routine_cells.school_id
            and placed.term_id = routine_cells.term_id
            and placed.measure_name = routine_cells.measure_name
            and placed.week_code = routine_cells.week_code
            and placed.routine_id = routine_cells.routine_id
)

select * from judged
where reason is not null
