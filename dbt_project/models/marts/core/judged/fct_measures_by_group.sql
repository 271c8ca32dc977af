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
        measures.school_id,
        measures.level_code,
        measures.class_id,
        measures.grade_code,
        measures.tier_code,
        measures.routine_id,
        measures.term_id,
        measures.window_code,
        measures.measure_name,
        measures.sufficiency,
        measures.status,
        measures.detail,
        measures.session_count,
        measures.day_count,
        measures.class_count,
        measures.thin_count,
        measures.unit_count,
        measures.numerator_count,
        measures.denominator_count,
        measures.value,
        measures.low,
        measures.high,
        measures.low_one_sided,
        measures.high_one_sided,
        measures.as_of_on,
        measures.build_id,
        case
            when measures.level_code = 'school'
                then {{ small_group_reason('schools.pupil_count', 'schools.class_count') }}
            when measures.level_code = 'grade' and grades.grade_code is null
                then 'small_cell'
            when measures.level_code = 'grade'
                then grades.reason
            when measures.level_code = 'tier'
                then tiers.reason
        end as group_reason,
        case
            when
                measures.level_code in ('school', 'grade')
                and {{ counts_people('measures.measure_name') }}
                then {{ small_end_reason(counted, total) }}
            when
                measures.level_code = 'class'
                and {{ counts_people('measures.measure_name') }}
                and least({{ counted }}, {{ total }}) < {{ small_cell }}
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
)

select * from judged_by_group
