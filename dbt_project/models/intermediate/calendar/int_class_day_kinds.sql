with term_days as (
    select * from {{ ref('int_term_days') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_grades as (
    select * from {{ ref('int_class_grades') }}
),

entries as (
    select * from {{ ref('stg_calendar__school_days') }}
),

day_kinds as (
    select * from {{ ref('seed_day_kinds') }}
),

class_days as (
    select
        classes.school_id,
        classes.class_id,
        classes.session_pattern,
        term_days.term_id,
        term_days.school_year_ends,
        term_days.day_on,
        term_days.week_first_on,
        {{ weekday_number('term_days.day_on') }} <= 5 as is_weekday
    from classes
    inner join term_days on classes.school_id = term_days.school_id
    where
        coalesce(classes.school_year_ends, term_days.school_year_ends)
        = term_days.school_year_ends
),

-- For each grade of the class: its own entry, else the school's, else a plain weekday.
grade_days as (
    select
        class_days.class_id,
        class_days.day_on,
        coalesce(
            of_grade.day_kind,
            of_school.day_kind,
            case when class_days.is_weekday then 'instruction' end
        ) as day_kind,
        coalesce(of_grade.label, of_school.label) as label
    from class_days
    left join class_grades on class_days.class_id = class_grades.class_id
    left join entries as of_grade
        on
            class_days.school_id = of_grade.school_id
            and class_days.day_on = of_grade.day_on
            and class_grades.grade_code = of_grade.applies_to
    left join entries as of_school
        on
            class_days.school_id = of_school.school_id
            and class_days.day_on = of_school.day_on
            and of_school.applies_to = '*'
),

-- A mixed-grade class is in session when one of its grades is: the most open entry counts.
opened as (
    select
        grade_days.class_id,
        grade_days.day_on,
        max_by(grade_days.day_kind, day_kinds.priority) as day_kind,
        max_by(
            grade_days.label, {{ in_turn(['day_kinds.priority', 'grade_days.label']) }}
        ) as label
    from grade_days
    inner join day_kinds on grade_days.day_kind = day_kinds.day_kind
    group by grade_days.class_id, grade_days.day_on
),

-- An entry for the class itself goes before everything else.
resolved as (
    select
        class_days.*,
        coalesce(of_class.label, opened.label) as label,
        coalesce(of_class.day_kind, opened.day_kind) as day_kind,
        of_class.day_kind is not null as is_named
    from class_days
    left join opened
        on class_days.class_id = opened.class_id and class_days.day_on = opened.day_on
    left join entries as of_class
        on
            class_days.school_id = of_class.school_id
            and class_days.day_on = of_class.day_on
            and class_days.class_id = of_class.applies_to
)

select * from resolved
where day_kind is not null
