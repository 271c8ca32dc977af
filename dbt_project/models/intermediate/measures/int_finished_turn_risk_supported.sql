{%- set counts = [
    'group_short_count', 'group_pupil_count', 'other_short_count', 'other_pupil_count',
    'wide_short_count', 'wide_pupil_count', threshold('small_cell'), threshold('small_group'),
] -%}
with groups as (
    select * from {{ ref('int_group_turns') }}
    where group_code = 'supported'
),

schools as (
    select * from groups
    where level_code = 'school'
),

-- Where a grade has too few others, those of the whole school stand for them.
compared as (
    select
        groups.*,
        '*' as routine_id,
        case when groups.level_code = 'grade' then schools.other_short_count end
            as wide_short_count,
        case when groups.level_code = 'grade' then schools.other_pupil_count end
            as wide_pupil_count
    from groups
    inner join schools
        on
            groups.school_id = schools.school_id
            and groups.term_id = schools.term_id
            and groups.window_code = schools.window_code
),

-- Those who are not short must be no fewer than are told either.
gated as (
    select
        *,
        group_pupil_count - group_short_count >= {{ threshold('small_cell') }}
        and case {{ risk_ratio_basis(*counts) }}
            when 'plain' then other_pupil_count - other_short_count
            when 'alternate' then wide_pupil_count - wide_short_count
            else 0
        end >= {{ threshold('small_cell') }} as is_open
    from compared
),

final as (
    select
        {{ finished_row(
            value='case when is_open then ' ~ risk_ratio(*counts) ~ ' end',
            numerator='group_short_count',
            denominator='group_pupil_count',
            sessions='draw_day_count',
            days='draw_day_count',
            units='group_pupil_count',
            classes='class_count',
            low='case when is_open then '
                ~ risk_ratio_low(*counts, level=threshold('ci_level')) ~ ' end',
            high='case when is_open then '
                ~ risk_ratio_high(*counts, level=threshold('ci_level')) ~ ' end'
        ) }}
    from gated
)

select * from final
