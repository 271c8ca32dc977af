with ratings as (
    select * from {{ ref('fct_rating_distribution') }}
    where level_code = 'class'
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current_year
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
    inner join terms
        on
            ratings.school_id = terms.school_id
            and ratings.term_id = terms.term_id
)

select * from shown
