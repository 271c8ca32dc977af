with classes as (
    select * from {{ ref('int_rollup_classes') }}
),

levels as (
    select * from {{ ref('int_rollup_levels') }}
),

-- The dimensions of Dane & Schneider (1998) that the feeds can show, each with equal weight.
dimensions as (
    select * from classes
    where measure_name in ('adherence', 'exposure', 'quality', 'responsiveness')
    union all
    select * from levels
    where measure_name in ('adherence', 'exposure', 'quality', 'responsiveness')
),

-- The range is the mean of the dimensions' ranges: exact when they err together, too wide when
-- they do not, never too narrow.
combined as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on,
        min_by(measure_name, value) as detail,
        max(session_count) filter (where measure_name = 'adherence') as session_count,
        max(day_count) filter (where measure_name = 'adherence') as day_count,
        max(class_count) filter (where measure_name = 'adherence') as class_count,
        max(thin_count) filter (where measure_name = 'adherence') as thin_count,
        max(unit_count) filter (where measure_name = 'adherence') as unit_count,
        sum(value) as numerator_count,
        cast(count(*) as double) as denominator_count,
        avg(value) as value,
        case when count(low) = count(*) then avg(low) end as low,
        case when count(high) = count(*) then avg(high) end as high,
        case when count(low_one_sided) = count(*) then avg(low_one_sided) end
            as low_one_sided,
        case when count(high_one_sided) = count(*) then avg(high_one_sided) end
            as high_one_sided
    from dimensions
    where value is not null
    group by
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        week_first_on
    having
        count(*) >= {{ threshold('min_dimensions') }}
        and count(*) filter (where measure_name = 'adherence') = 1
)

select * from combined
