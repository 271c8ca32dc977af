with classes as (
    select * from {{ ref('int_rollup_values') }}
    where
        scope_code = 'school'
        and window_code in ('term', 'last_20')
        and measure_name in ('adherence', 'exposure', 'quality', 'responsiveness')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
    where level_code != 'class'
),

-- In a grade, a school or a tier a class is one unit and brings all its sides along.
units as (
    select
        classes.school_id,
        case when classes.tier_code = '*' then level_classes.level_code else 'tier' end
            as level_code,
        '*' as class_id,
        level_classes.grade_code,
        classes.tier_code,
        classes.routine_id,
        classes.term_id,
        classes.window_code,
        'class' as unit_kind,
        max(case when classes.measure_name = 'adherence' then classes.value end) as adherence,
        max(case when classes.measure_name = 'quality' then classes.value end) as quality,
        max(case when classes.measure_name = 'responsiveness' then classes.value end)
            as responsiveness,
        sum(case when classes.measure_name = 'exposure' then classes.numerator else 0.0 end)
            as reached,
        sum(case when classes.measure_name = 'exposure' then classes.numerator_high else 0.0 end)
            as reached_high,
        sum(case when classes.measure_name = 'exposure' then classes.denominator else 0.0 end)
            as enrolled
    from classes
    inner join level_classes on classes.class_id = level_classes.member_class_id
    where classes.tier_code = '*' or level_classes.level_code = 'school'
    group by
        classes.school_id,
        case when classes.tier_code = '*' then level_classes.level_code else 'tier' end,
        level_classes.grade_code,
        classes.tier_code,
        classes.routine_id,
        classes.term_id,
        classes.window_code,
        level_classes.member_class_id
)

select * from units
