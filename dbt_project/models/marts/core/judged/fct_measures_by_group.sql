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
        measures.*,
        classes.total_code,
        case
            when measures.level_code = 'school'
                then {{ small_group_reason('schools.pupil_count', 'schools.class_count') }}
            when measures.level_code = 'grade' and grades.grade_code is null
                then 'small_cell'
            when measures.level_code = 'grade'
                then grades.reason
            when measures.level_code = 'tier'
                then tiers.reason
            when measures.level_code = 'class' and {{ is_over_children('measures.measure_name') }}
                then classes.reason
        end as group_reason,
        case
            when
                measures.level_code in ('school', 'grade')
                and {{ counts_people('measures.measure_name') }}
                then {{ small_end_reason(counted, total) }}
            when
                measures.level_code = 'class'
                and {{ is_over_children('measures.measure_name') }}
                and {{ total }} < {{ small_cell }}
                then 'small_cell'
            when
                measures.level_code = 'class'
                and {{ counts_people('measures.measure_name') }}
                and {{ counted }} < {{ small_cell }}
                then 'small_cell'
            when
                measures.level_code != 'tier'
                and {{ is_about_supported('measures.measure_name') }}
                and coalesce(supported.supported_count, 0) < {{ small_cell }}
                then 'small_cell'
        end as own_reason,
        case
            when {{ counts_people('measures.measure_name') }}
                then least(
                    measures.numerator_count,
                    measures.denominator_count - measures.numerator_count
                )
            else {{ small_cell }}
        end as small_end_count
    from measures
    inner join terms
        on
            measures.school_id = terms.school_id
            and measures.term_id = terms.term_id
    left join classes on measures.class_id = classes.class_id
    left join schools on measures.school_id = schools.school_id
    left join grades
        on
            measures.school_id = grades.school_id
            and measures.grade_code = grades.grade_code
    left join tiers
        on
            measures.school_id = tiers.school_id
            and measures.term_id = tiers.term_id
            and measures.tier_code = tiers.tier_code
    left join supported
        on
            measures.school_id = supported.school_id
            and measures.term_id = supported.term_id
    where measures.level_code != 'class' or classes.class_id is not null
)

select * from judged_by_group
