{%- set sides = ['group', 'other'] -%}
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

-- A child of two classes is one child.
of_children as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        pupils.term_id,
        pupils.window_code,
        pupils.pupil_id,
        max(pupils.draw_day_count) as draw_day_count,
        sum(pupils.offered_count * 1.0) as turn_count,
        sum(pupils.expected_count) as expected_count
    from pupils
    inner join level_classes on pupils.class_id = level_classes.member_class_id
    group by
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        pupils.term_id,
        pupils.window_code,
        pupils.pupil_id
),

class_counts as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.grade_code,
        pupils.term_id,
        pupils.window_code,
        count(distinct pupils.class_id) as class_count
    from pupils
    inner join level_classes on pupils.class_id = level_classes.member_class_id
    group by
        level_classes.school_id,
        level_classes.level_code,
        level_classes.grade_code,
        pupils.term_id,
        pupils.window_code
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
        on
            of_children.school_id = class_counts.school_id
            and of_children.level_code = class_counts.level_code
            and of_children.grade_code = class_counts.grade_code
            and of_children.term_id = class_counts.term_id
            and of_children.window_code = class_counts.window_code
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
        school_id,
        level_code,
        class_id,
        grade_code,
        term_id,
        window_code,
        group_code,
        max(draw_day_count) as draw_day_count,
        {%- for side in sides %}
        count(*) filter (where side_code = '{{ side }}') as {{ side }}_pupil_count,
        coalesce(sum(short_count) filter (where side_code = '{{ side }}'), 0)
            as {{ side }}_short_count,
        coalesce(sum(turn_count) filter (where side_code = '{{ side }}'), 0)
            as {{ side }}_turn_count,
        coalesce(sum(expected_count) filter (where side_code = '{{ side }}'), 0)
            as {{ side }}_expected_count,
        sum(turn_count * turn_count) filter (where side_code = '{{ side }}')
            as {{ side }}_turn_squares,
        sum(turn_count * expected_count) filter (where side_code = '{{ side }}')
            as {{ side }}_products,
        sum(expected_count * expected_count) filter (where side_code = '{{ side }}')
            as {{ side }}_expected_squares,
        {%- endfor %}
        max(class_count) as class_count
    from placed
    group by school_id, level_code, class_id, grade_code, term_id, window_code, group_code
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
