with level_classes as (
    select * from {{ ref('int_level_classes') }}
),

class_plan as (
    select * from {{ ref('int_class_plan') }}
),

lessons as (
    select * from {{ ref('int_lessons') }}
),

sessions as (
    select * from {{ ref('int_observation_sessions') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

tiers as (
    select * from {{ ref('seed_tiers') }}
),

catalogue as (
    select * from {{ ref('int_rollup_catalogue') }}
),

-- Routines a class has to do with: planned, taught or observed; and all together.
class_routines as (
    select
        class_id,
        routine_id
    from class_plan
    union
    select
        class_id,
        routine_id
    from lessons
    union
    select
        class_id,
        routine_id
    from sessions
    where routine_id is not null
    union
    select
        member_class_id as class_id,
        '*' as routine_id
    from level_classes
),

levels as (
    select distinct
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        '*' as tier_code,
        class_routines.routine_id,
        windows.term_id,
        windows.window_code
    from level_classes
    inner join class_routines on level_classes.member_class_id = class_routines.class_id
    inner join windows on level_classes.member_class_id = windows.class_id
),

of_tiers as (
    select
        levels.school_id,
        'tier' as level_code,
        levels.class_id,
        levels.grade_code,
        tiers.tier_code,
        levels.routine_id,
        levels.term_id,
        levels.window_code
    from levels
    cross join tiers
    where levels.level_code = 'school' and levels.routine_id = '*'
),

all_levels as (
    select * from levels
    union all
    select * from of_tiers
),

-- Every row that should exist, whether or not anybody looked.
grid as (
    select
        all_levels.*,
        catalogue.measure_name,
        catalogue.criterion,
        catalogue.has_days,
        catalogue.usable_sessions,
        catalogue.usable_units,
        catalogue.solid_sessions,
        catalogue.solid_units
    from all_levels
    inner join catalogue
        on
            (all_levels.routine_id = '*' or catalogue.is_by_routine)
            and ';' || catalogue.level_codes || ';' like '%;' || all_levels.level_code || ';%'
)

select * from grid
