with terms as (
    select * from {{ ref('stg_calendar__terms') }}
),

schools as (
    select * from {{ ref('int_schools') }}
),

-- A term may belong to the body above the school.
school_terms as (
    select
        schools.school_id,
        terms.term_id,
        terms.parent_term_id,
        terms.title,
        terms.kind,
        terms.first_on,
        terms.last_on
    from terms
    inner join schools
        on terms.school_id = schools.school_id or terms.school_id = schools.parent_id
),

parents as (
    select distinct parent_term_id
    from terms
    where parent_term_id is not null
),

-- The year in which the tree's root ends; without a root, a year that turns in August.
years as (
    select
        school_terms.school_id,
        school_terms.term_id,
        coalesce(
            max(extract(year from roots.last_on)),
            max(extract(year from school_terms.last_on))
            + max(case when extract(month from school_terms.last_on) >= 8 then 1 else 0 end)
        ) as school_year_ends
    from school_terms
    left join school_terms as roots
        on
            school_terms.school_id = roots.school_id
            and roots.kind = 'school_year'
            and school_terms.first_on between roots.first_on and roots.last_on
    group by school_terms.school_id, school_terms.term_id
),

leaves as (
    select
        school_terms.*,
        cast(years.school_year_ends as bigint) as school_year_ends,
        row_number() over (
            partition by school_terms.school_id, years.school_year_ends
            order by school_terms.first_on, school_terms.term_id
        ) as term_number,
        school_terms.first_on <= {{ as_of_on() }} as has_started
    from school_terms
    inner join years
        on school_terms.school_id = years.school_id and school_terms.term_id = years.term_id
    left join parents on school_terms.term_id = parents.parent_term_id
    where parents.parent_term_id is null
),

marked as (
    select
        *,
        has_started and row_number() over (
            partition by school_id, has_started order by first_on desc, term_id asc
        ) = 1 as is_current
    from leaves
),

-- The current year is the one of the current term, so that classes and figures are of one year.
years_marked as (
    select
        *,
        coalesce(
            school_year_ends
            = max(case when is_current then school_year_ends end) over (partition by school_id),
            false
        ) as is_current_year
    from marked
)

select * from years_marked
