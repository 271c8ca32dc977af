with held as (
    select * from {{ ref('fct_held_measures') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted and pair_id is not null
),

observers as (
    select
        school_id,
        term_id,
        count(distinct observer_id) as observer_count
    from visits
    group by school_id, term_id
),

-- The agreement of two observers is theirs: that they look together is told, not how far they are.
judged as (
    select
        held.*,
        coalesce(observers.observer_count, 0) >= {{ threshold('observer_min_people') }} as is_told
    from held
    left join observers
        on
            held.school_id = observers.school_id
            and held.term_id = observers.term_id
),

shown as (
    select
        judged.school_id,
        judged.term_id,
        judged.measure_name,
        judged.measure_kind,
        judged.reason_code,
        case when judged.is_told then judged.pair_session_count end as pair_session_count,
        case when judged.is_told then judged.compared_count end as compared_count,
        case when judged.is_told then judged.kappa end as kappa,
        {{ lineage_columns() }}
    from judged
    inner join terms on judged.school_id = terms.school_id and judged.term_id = terms.term_id
)

select * from shown
