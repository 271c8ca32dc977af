{%- set small_cell = threshold('small_cell') -%}
with judged_by_group as (
    select * from {{ ref('fct_measures_by_group') }}
),

judged_alone as (
    select
        *,
        coalesce(group_reason, own_reason) as alone_reason,
        level_code = 'class' and {{ is_over_children('measure_name') }} as is_over_children
    from judged_by_group
),

-- A class that was small only in another term is not among those whose size is withheld now: then
-- nothing over children is shown of any class for that term, and nothing can be subtracted.
judged_by_size as (
    select
        *,
        case
            when
                is_over_children
                and bool_or(
                    is_over_children
                    and group_reason is null
                    and denominator_count between 1 and {{ small_cell }} - 1
                ) over (partition by school_id, term_id, window_code)
                then coalesce(alone_reason, 'complementary')
            else alone_reason
        end as sized_reason
    from judged_alone
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
            when level_code = 'class' and {{ counts_people('measure_name') }}
                then {{ withheld_reason(
                'sized_reason',
                [
                    'school_id', 'level_code', 'total_code', 'routine_id', 'term_id',
                    'window_code', 'measure_name',
                ],
                [['numerator_count', small_cell]],
                'class_id'
            ) }}
            else sized_reason
        end as reason
    from judged_by_size
)

select * from judged_together
