with measures as (
    select * from {{ ref('fct_measures_judged') }}
    where level_code = 'class'
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
),

members as (
    select
        school_id,
        class_id,
        'school' as level_code,
        '*' as grade_code
    from classes
    union all
    select
        school_id,
        class_id,
        'grade' as level_code,
        grade_code
    from class_grades
),

seen_classes as (
    select
        members.school_id,
        members.level_code,
        members.grade_code,
        measures.routine_id,
        measures.term_id,
        measures.window_code,
        measures.measure_name,
        count(*) as class_count,
        count(*) filter (
            where measures.session_count >= {{ threshold('min_sessions') }}
        ) as seen_class_count
    from measures
    inner join members on measures.class_id = members.class_id
    group by
        members.school_id,
        members.level_code,
        members.grade_code,
        measures.routine_id,
        measures.term_id,
        measures.window_code,
        measures.measure_name
),

-- One or two classes seen are one or two teachers. Grades add up to the school: where one grade's
-- count is not told, none is.
judged as (
    select
        *,
        bool_or(seen_class_count between 1 and {{ few_classes() }} - 1) over (
            partition by
                school_id, level_code, routine_id, term_id, window_code, measure_name
        ) as is_few
    from seen_classes
),

told as (
    select
        school_id,
        level_code,
        grade_code,
        routine_id,
        term_id,
        window_code,
        measure_name,
        class_count,
        case when not is_few then seen_class_count end as seen_class_count
    from judged
)

select * from told
