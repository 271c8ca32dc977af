{%- set figure = [
    'school_id', 'level_code', 'grade_code', 'routine_id', 'term_id', 'measure_name',
] -%}
with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

measures as (
    select * from {{ ref('fct_measures') }}
    where level_code = 'class'
),

weeks as (
    select seen_weeks.*
    from {{ ref('fct_measure_weeks') }} as seen_weeks
    where
        seen_weeks.level_code in ('school', 'grade')
        and {{ holds_figure('seen_weeks') }}
),

-- A term whose one week holds all that there is, is that week.
single_weeks as (
    select
        {{ figure | join(', ') }},
        max(class_count) as class_count
    from weeks
    group by {{ figure | join(', ') }}
    having count(*) = 1
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
        classes.school_id,
        classes.class_id,
        'grade' as level_code,
        class_grades.grade_code
    from classes
    inner join class_grades on classes.class_id = class_grades.class_id
),

whole_terms as (
    select * from measures
    where window_code = 'term'
),

-- What the whole term holds beyond its last days may be worked out: the figures of the days before.
compared as (
    select
        measures.class_id,
        measures.routine_id,
        measures.term_id,
        measures.window_code,
        measures.measure_name,
        {{ holds_figure('measures') }} as is_in_figure,
        coalesce(whole_terms.session_count > measures.session_count, false)
        and measures.window_code != 'term' as is_in_difference
    from measures
    left join whole_terms
        on
            measures.class_id = whole_terms.class_id
            and measures.routine_id = whole_terms.routine_id
            and measures.term_id = whole_terms.term_id
            and measures.measure_name = whole_terms.measure_name
),

counted as (
    select
        members.school_id,
        members.level_code,
        members.grade_code,
        compared.routine_id,
        compared.term_id,
        compared.window_code,
        compared.measure_name,
        count(*) filter (where compared.is_in_figure) as figure_class_count,
        count(*) filter (where compared.is_in_difference) as difference_class_count
    from compared
    inner join members on compared.class_id = members.class_id
    group by
        members.school_id,
        members.level_code,
        members.grade_code,
        compared.routine_id,
        compared.term_id,
        compared.window_code,
        compared.measure_name
),

told as (
    select
        counted.school_id,
        counted.level_code,
        counted.grade_code,
        counted.routine_id,
        counted.term_id,
        counted.window_code,
        counted.measure_name,
        counted.figure_class_count,
        counted.difference_class_count,
        single_weeks.class_count as single_week_class_count
    from counted
    left join single_weeks on {{ same_keys('counted', 'single_weeks', figure) }}
)

select * from told
