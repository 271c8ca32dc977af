with terms as (
    select * from {{ ref('int_leaf_terms') }}
),

final as (
    select
        school_id,
        term_id,
        parent_term_id,
        title,
        kind,
        first_on,
        last_on,
        term_number,
        school_year_ends,
        has_started,
        is_current,
        is_current_year
    from terms
)

select * from final
