{%- set small_cell = threshold('small_cell') -%}
with judged_by_group as (
    select * from {{ ref('fct_measures_by_group') }}
),

judged_alone as (
    select
        *,
        coalesce(group_reason, own_reason) as alone_reason
    from judged_by_group
),

judged_together as (
    select
        school_id,
        level_code,
        class_id,
        grade_code,
        tier_code,
        routine_id,
        term_id,
        window_code,
        measure_name,
        sufficiency,
        status,
        detail,
        session_count,
        day_count,
        class_count,
        thin_count,
        unit_count,
        numerator_count,
        denominator_count,
        value,
        low,
        high,
        low_one_sided,
        high_one_sided,
        as_of_on,
        build_id,
        group_reason,
        case
            when level_code = 'grade' then {{ withheld_reason(
                'alone_reason',
                ['school_id', 'level_code', 'routine_id', 'term_id', 'window_code', 'measure_name'],
                [['small_end_count', small_cell]],
                'grade_code'
            ) }}
            else alone_reason
        end as reason
    from judged_alone
)

select * from judged_together
