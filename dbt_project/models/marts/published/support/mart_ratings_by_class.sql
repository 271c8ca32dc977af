with ratings as (
    select * from {{ ref('fct_rating_distribution') }}
),

-- Shown where the quality that the ratings make up is shown.
quality as (
    select * from {{ ref('fct_measures_judged') }}
    where measure_name = 'quality' and reason is null
),

shown as (
    select
        ratings.school_id,
        ratings.class_id,
        ratings.routine_id,
        ratings.term_id,
        ratings.window_code,
        {{ rating_columns('ratings') }}
    from ratings
    inner join quality on {{ same_cell('ratings', 'quality') }}
    where ratings.level_code = 'class'
)

select * from shown
