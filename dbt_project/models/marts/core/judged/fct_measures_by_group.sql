{%- set small_cell = threshold('small_cell') -%}
{%- set counted = 'measures.numerator_count' -%}
{%- set total = 'measures.denominator_count' -%}
with measures as (
    select * from {{ ref('fct_measures') }}
),

schools as (
    select * from {{ ref('dim_schools') }}
),

grades as (
    select * from {{ ref('dim_grades_withheld') }}
),

tiers as (
    select * from {{ ref('dim_tiers_withheld') }}
),

classes as (
    select * from {{ ref('dim_classes_withheld') }}
),

counts as (
    select * from {{ ref('dim_measure_counts') }}
),

figures as (
    select * from {{ ref('fct_figure_classes') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current_year
),

supported as (
    select
        school_id,
        term_id,
        max(supported_count) as supported_count
    from tiers
    group by school_id, term_id
),

judged_by_group as (
    select
        {{ keys_of('measures', judged_columns()) }},
        counts.is_by_routine,
        counts.is_of_people,
        counts.is_over_children,
        counts.is_of_groups,
        classes.total_code,
        case
            when measures.level_code = 'school'
                then {{ small_group_reason('schools.pupil_count', 'schools.class_count') }}
            when measures.level_code = 'grade' and grades.grade_code is null then 'small_cell'
            when measures.level_code = 'grade' then grades.reason
            when measures.level_code = 'tier' then tiers.reason
            when measures.level_code = 'class' and counts.is_over_children
                then classes.reason
        end as group_reason,
        case
            when counts.is_of_groups and measures.value is null then 'small_cell'
            when
                measures.level_code != 'tier'
                and counts.is_about_supported
                and coalesce(supported.supported_count, 0) < {{ small_cell }}
                then 'small_cell'
            when
                counts.is_over_children
                and (counts.is_by_routine or measures.level_code != 'tier')
                and {{ total }} < {{ small_cell }}
                then 'small_cell'
            when
                counts.is_of_people
                and (counts.is_by_routine or measures.level_code != 'tier')
                and {{ small_end_reason(counted, total) }} is not null
                then {{ small_end_reason(counted, total) }}
            when
                measures.level_code = 'class'
                or (measures.level_code = 'tier' and measures.measure_name = 'tier_share')
                or not {{ holds_figure('measures') }}
                then null
            when
                greatest(measures.class_count, coalesce(figures.figure_class_count, 0))
                < {{ few_classes() }}
                or figures.single_week_class_count < {{ few_classes() }}
                then 'few_classes'
            when figures.difference_class_count between 1 and {{ few_classes() }} - 1
                then 'complementary'
        end as own_reason
    from measures
    inner join counts on measures.measure_name = counts.measure_name
    inner join terms
        on measures.school_id = terms.school_id and measures.term_id = terms.term_id
    left join classes on measures.class_id = classes.class_id
    left join schools on measures.school_id = schools.school_id
    left join grades
        on measures.school_id = grades.school_id and measures.grade_code = grades.grade_code
    left join tiers
        on
            measures.school_id = tiers.school_id
            and measures.term_id = tiers.term_id
            and measures.tier_code = tiers.tier_code
    left join supported
        on measures.school_id = supported.school_id and measures.term_id = supported.term_id
    left join figures
        on
            measures.school_id = figures.school_id
            and measures.level_code = figures.level_code
            and measures.grade_code = figures.grade_code
            and measures.routine_id = figures.routine_id
            and measures.term_id = figures.term_id
            and measures.window_code = figures.window_code
            and measures.measure_name = figures.measure_name
    where measures.level_code != 'class' or classes.class_id is not null
)

select * from judged_by_group
