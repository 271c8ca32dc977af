with looks as (
    select * from {{ ref('int_offer_looks') }}
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
),

catalogue as (
    select * from {{ ref('int_rollup_catalogue') }}
),

described as (
    select
        looks.*,
        catalogue.has_days,
        catalogue.usable_sessions,
        catalogue.usable_units,
        catalogue.solid_sessions,
        catalogue.solid_units,
        terms.term_number,
        terms.school_year_ends
    from looks
    inner join terms
        on
            looks.school_id = terms.school_id
            and looks.term_id = terms.term_id
    inner join catalogue on looks.measure_name = catalogue.measure_name
),

tested as (
    {{ offer_test('described') }}
),

judged as (
    select
        *,
        {{ sufficiency() }} as sufficiency
    from tested
)

select * from judged
