{%- set sides = ['group', 'other'] -%}
{%- set level_keys = ['school_id', 'level_code', 'grade_code', 'term_id', 'window_code'] -%}
{%- set at_level = level_keys | join(', ') -%}
with pupils as (
    select * from {{ ref('int_turn_windows') }}
    where expected_count > 0
),

members as (
    select * from {{ ref('int_group_members') }}
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
    where level_code in ('grade', 'school')
),

groups as (
    select 'supported' as group_code
    union all
    select 'newcomers' as group_code
),

seen_at_levels as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        level_classes.member_class_id,
        pupils.term_id,
        pupils.window_code,
        pupils.pupil_id,
        pupils.draw_day_count,
        pupils.offered_count,
        pupils.expected_count
    from pupils
    inner join level_classes on pupils.class_id = level_classes.member_class_id
),

-- A child of two classes is one child.
of_children as (
    select
        {{ at_level }},
        pupil_id,
        max(class_id) as class_id,
        max(draw_day_count) as draw_day_count,
        sum(offered_count * 1.0) as turn_count,
        sum(expected_count) as expected_count
    from seen_at_levels
    group by {{ at_level }}, pupil_id
),

class_counts as (
    select
        {{ at_level }},
        count(distinct member_class_id) as class_count
    from seen_at_levels
    group by {{ at_level }}
),

-- Short is a whole turn below the chances, which are added up in parts of a draw.
placed as (
    select
        of_children.*,
        groups.group_code,
        class_counts.class_count,
        case
            when of_children.turn_count <= of_children.expected_count - 1.0 + 1e-9 then 1
            else 0
        end as short_count,
        case when members.pupil_id is null then 'other' else 'group' end as side_code
    from of_children
    inner join class_counts
        on {{ same_keys('of_children', 'class_counts', level_keys) }}
    cross join groups
    left join members
        on
            of_children.school_id = members.school_id
            and of_children.term_id = members.term_id
            and of_children.pupil_id = members.pupil_id
            and groups.group_code = members.group_code
),

counted as (
    select
        {{ at_level }},
        class_id,
        group_code,
        max(draw_day_count) as draw_day_count,
        {{ sums_of_side('group') | indent(8) }},
        {{ sums_of_side('other') | indent(8) }},
        max(class_count) as class_count
    from placed
    group by {{ at_level }}, class_id, group_code
),

-- The variance of the logarithm of turns over chances, from pupil to pupil (a ratio of two sums).
spread as (
    select
        *,
        {%- for side in sides %}
        {{ side }}_turn_count / nullif({{ side }}_expected_count, 0) as {{ side }}_ratio,
        {{ log_ratio_variance(
            side ~ '_pupil_count', side ~ '_turn_count', side ~ '_expected_count',
            side ~ '_turn_squares', side ~ '_products', side ~ '_expected_squares'
        ) }} as {{ side }}_log_variance
        {%- if not loop.last %},{% endif %}
        {%- endfor %}
    from counted
)

select * from spread
