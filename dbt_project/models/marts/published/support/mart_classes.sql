with classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

withheld as (
    select * from {{ ref('dim_classes_withheld') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

visits as (
    select * from {{ ref('fct_observations') }}
    where is_counted
),

offers as (
    select * from {{ ref('fct_offers') }}
    where level_code = 'class' and state_code = 'offer'
),

visit_counts as (
    select
        visits.class_id,
        count(distinct visits.visit_id) as visit_count,
        max(visits.observed_on) as last_visit_on,
        count(distinct visits.routine_id) as seen_routine_count
    from visits
    inner join terms
        on
            visits.school_id = terms.school_id
            and visits.term_id = terms.term_id
    group by visits.class_id
),

offer_counts as (
    select
        class_id,
        count(*) as open_offer_count
    from offers
    group by class_id
),

judged as (
    select
        classes.*,
        withheld.reason
    from classes
    inner join withheld on classes.class_id = withheld.class_id
),

shown as (
    select
        judged.class_id,
        judged.school_id,
        judged.title,
        judged.grade_codes,
        judged.session_pattern,
        judged.school_year,
        case when judged.reason is null then cast(judged.pupil_count as bigint) end
            as pupil_count,
        coalesce(visit_counts.visit_count, 0) as visit_count,
        visit_counts.last_visit_on,
        coalesce(visit_counts.seen_routine_count, 0) as seen_routine_count,
        coalesce(offer_counts.open_offer_count, 0) as open_offer_count,
        coalesce(visit_counts.visit_count, 0) < {{ threshold('min_sessions') }} as is_thin,
        {{ withheld_columns('judged.reason') }},
        {{ lineage_columns() }}
    from judged
    left join visit_counts on judged.class_id = visit_counts.class_id
    left join offer_counts on judged.class_id = offer_counts.class_id
)

select * from shown
