with class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_terms as (
    select * from {{ ref('dim_class_terms') }}
),

-- A mixed class counts whole in each of its grades: rosters say who is in a class, not whose grade
-- a child has. So grades may add up to more than the school.
sized as (
    select
        class_grades.school_id,
        class_grades.grade_code,
        count(*) as class_count,
        cast(sum(classes.pupil_count) as bigint) as pupil_count,
        bool_or(classes.is_mixed_grade) as is_shared
    from class_grades
    inner join classes on class_grades.class_id = classes.class_id
    group by class_grades.school_id, class_grades.grade_code
),

sized_by_term as (
    select
        class_grades.school_id,
        class_grades.grade_code,
        class_terms.term_id,
        cast(sum(class_terms.pupil_count) as bigint) as pupil_count
    from class_grades
    inner join class_terms on class_grades.class_id = class_terms.class_id
    group by class_grades.school_id, class_grades.grade_code, class_terms.term_id
),

-- A grade that was small in one term is withheld in all of them: most of its children are the
-- same, and what another term shows of them would tell of that one.
smallest as (
    select
        school_id,
        grade_code,
        min(pupil_count) as pupil_count
    from sized_by_term
    group by school_id, grade_code
),

-- With a mixed class the grades overlap: grades, added up, minus the school gives its size, and the
-- school minus one grade gives a class of another. Harmless unless a class is small.
overlapping as (
    select
        school_id,
        bool_or(is_mixed_grade) as is_mixed,
        bool_or(is_mixed_grade)
        and bool_or(pupil_count between 1 and {{ threshold('small_cell') }} - 1) as is_open
    from classes
    group by school_id
),

judged_alone as (
    select
        sized.*,
        overlapping.is_mixed,
        least(sized.pupil_count, smallest.pupil_count) as least_pupil_count,
        coalesce(
            {{ small_group_reason(
                'least(sized.pupil_count, smallest.pupil_count)', 'sized.class_count'
            ) }},
            case when overlapping.is_open then 'complementary' end
        ) as own_reason
    from sized
    inner join overlapping on sized.school_id = overlapping.school_id
    left join smallest
        on
            sized.school_id = smallest.school_id
            and sized.grade_code = smallest.grade_code
),

judged_together as (
    select
        *,
        {{ withheld_reason(
            'own_reason',
            ['school_id'],
            [['least_pupil_count', threshold('small_cell')], ['class_count', few_classes()]],
            'grade_code',
            hidden=['least_pupil_count', threshold('small_cell')]
        ) }} as group_reason
    from judged_alone
),

-- Grades are means of their classes, and so is the school: added up, with their numbers of classes,
-- they differ by the mixed class, which would be its teacher's score. One of the grades that share
-- a class goes, the smallest, unless grades are withheld anyway.
judged_for_shared as (
    select
        *,
        is_mixed
        and is_shared
        and not bool_or(group_reason is not null) over (partition by school_id)
        and row_number() over (
            partition by school_id, is_shared
            order by pupil_count asc, grade_code desc
        ) = 1 as is_for_shared
    from judged_together
),

judged as (
    select
        school_id,
        grade_code,
        class_count,
        pupil_count,
        case when is_for_shared then 'complementary' else group_reason end as reason
    from judged_for_shared
)

select * from judged
