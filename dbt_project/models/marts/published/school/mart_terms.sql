with terms as (
    select * from {{ ref('dim_terms') }}
    where is_current_year
),

weeks as (
    select * from {{ ref('dim_weeks') }}
),

week_counts as (
    select
        school_id,
        term_id,
        count(*) as week_count,
        count(*) filter (where is_elapsed) as elapsed_week_count
    from weeks
    group by school_id, term_id
),

shown as (
    select
        terms.school_id,
        terms.term_id,
        terms.parent_term_id,
        lag(terms.term_id) over (
            partition by terms.school_id, terms.school_year_ends
            order by terms.term_number
        ) as previous_term_id,
        terms.title,
        terms.kind,
        terms.first_on,
        terms.last_on,
        cast(terms.term_number as bigint) as term_number,
        coalesce(week_counts.week_count, 0) as week_count,
        coalesce(week_counts.elapsed_week_count, 0) as elapsed_week_count,
        terms.is_current
    from terms
    left join week_counts
        on
            terms.school_id = week_counts.school_id
            and terms.term_id = week_counts.term_id
)

select * from shown
