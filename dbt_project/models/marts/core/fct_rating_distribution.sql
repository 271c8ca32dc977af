with ratings as (
    select * from {{ ref('int_ratings') }}
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code in ('term', 'last_20')
),

level_classes as (
    select * from {{ ref('int_level_classes') }}
),

keyed as (
    select
        ratings.*,
        ratings.routine_id as key_routine_id
    from ratings
    where ratings.routine_id is not null
    union all
    select
        ratings.*,
        '*' as key_routine_id
    from ratings
),

-- A substitute's day is left out of the class's own figures and kept for the school's.
placed as (
    select
        level_classes.school_id,
        level_classes.level_code,
        level_classes.class_id,
        level_classes.grade_code,
        keyed.key_routine_id as routine_id,
        windows.term_id,
        windows.window_code,
        keyed.rating_code,
        keyed.rating,
        keyed.weight
    from keyed
    inner join windows
        on
            keyed.class_id = windows.class_id
            and keyed.observed_on between windows.first_on and windows.last_on
    inner join level_classes on keyed.class_id = level_classes.member_class_id
    where level_classes.level_code != 'class' or not keyed.is_substitute
),

distribution as (
    select
        {{ finished_keys() }},
        rating_code,
        {%- for rating in range(4) %}
        round(cast(sum(case when rating = {{ rating }} then weight else 0.0 end) as double), 9)
            as rating_{{ rating }}_count,
        {%- endfor %}
        round(cast(sum(weight) as double), 9) as rating_count
    from placed
    group by {{ finished_keys() }}, rating_code
)

select * from distribution
