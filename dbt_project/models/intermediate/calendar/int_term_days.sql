with terms as (
    select * from {{ ref('int_leaf_terms') }}
),

days as (
    select
        school_id,
        term_id,
        school_year_ends,
        first_on,
        {{ each_day('first_on', 'last_on') }} as day_on
    from terms
),

-- Every calendar day belongs to one leaf term: of two that overlap, the later one.
term_days as (
    select
        school_id,
        term_id,
        school_year_ends,
        day_on,
        {{ week_first('day_on') }} as week_first_on
    from days
    qualify row_number() over (
        partition by school_id, day_on order by first_on desc, term_id asc
    ) = 1
)

select * from term_days
