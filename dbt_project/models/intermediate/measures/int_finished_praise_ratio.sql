with classes as (
    select * from {{ ref('int_rollup_classes') }}
    where measure_name = 'praise_share'
),

levels as (
    select * from {{ ref('int_rollup_levels') }}
    where measure_name = 'praise_share'
),

shares as (
    select * from classes
    union all
    select * from levels
),

-- So many to one: share / (1 - share), the ends likewise. Without a correction there is no ratio,
-- and where the share may be 1 the upper end is open.
ratios as (
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
        detail,
        session_count,
        day_count,
        class_count,
        thin_count,
        unit_count,
        numerator_count,
        {%- for figure in ['value', 'low', 'high', 'low_one_sided', 'high_one_sided'] %}
        case when value < 1.0 then {{ figure }} / nullif(1.0 - {{ figure }}, 0.0) end
            as {{ figure }},
        {%- endfor %}
        denominator_count - numerator_count as denominator_count
    from shares
)

select * from ratios
