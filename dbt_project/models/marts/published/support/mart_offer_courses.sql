with courses as (
    select * from {{ ref('fct_offer_courses') }}
),

shown as (
    select
        offer_id,
        school_id,
        class_id,
        routine_id,
        term_id,
        decision_id,
        decision_code,
        decided_on,
        follow_up_on,
        course_code,
        has_hand,
        is_to_consider,
        {{ lineage_columns() }}
    from courses
)

select * from shown
