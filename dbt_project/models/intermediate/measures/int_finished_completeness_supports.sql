with coverage as (
    select * from {{ ref('int_support_coverage') }}
    where expected_count > 0.0
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

placed as (
    select
        coverage.*,
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id as level_class_id,
        level_classes.grade_code,
        '*' as level_tier_code
    from coverage
    inner join level_classes on coverage.class_id = level_classes.member_class_id
    union all
    select
        coverage.*,
        level_classes.school_id,
        'tier' as level_code,
        '*' as level_class_id,
        '*' as grade_code,
        coverage.tier_code as level_tier_code
    from coverage
    inner join level_classes on coverage.class_id = level_classes.member_class_id
    where level_classes.level_code = 'school'
),

keyed as (
    select
        school_id,
        level_code,
        level_class_id as class_id,
        grade_code,
        level_tier_code,
        '*' as routine_id,
        class_id as member_class_id,
        term_id,
        window_code,
        expected_count,
        checked_count
    from placed
),

final as (
    select
        {{ finished_row(
            value='sum(checked_count) / nullif(sum(expected_count), 0.0)',
            numerator='sum(checked_count)',
            denominator='sum(expected_count)',
            sessions='count(*)',
            days='0',
            units='sum(expected_count)',
            classes='count(distinct member_class_id)',
            tier_code='level_tier_code'
        ) }}
    from keyed
    group by {{ finished_keys() }}, level_tier_code
)

select * from final
