{%- set in_order = 'partition by class_id, routine_id '
    ~ 'order by decided_on, entered_at nulls first, received_at, decision_id' -%}
-- When it was written down does not count: a meeting's decision is often typed in later.
with decisions as (
    select * from {{ ref('stg_classroom__offer_decisions') }}
    where {{ is_known('decided_on') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

term_days as (
    select * from {{ ref('int_leaf_terms') }}
),

-- A meeting in the holidays belongs to the term before them.
terms as (
    select
        classes.class_id,
        decisions.decision_id,
        max_by(term_days.term_id, term_days.first_on) as term_id,
        max_by(term_days.is_current_year, term_days.first_on) as is_current_year
    from decisions
    inner join classes on decisions.class_id = classes.class_id
    inner join term_days
        on
            classes.school_id = term_days.school_id
            and decisions.decided_on >= term_days.first_on
    group by classes.class_id, decisions.decision_id
),

placed as (
    select
        decisions.*,
        classes.school_id,
        terms.term_id
    from decisions
    inner join classes on decisions.class_id = classes.class_id
    inner join terms on decisions.decision_id = terms.decision_id
    where terms.is_current_year
),

numbered as (
    select
        *,
        row_number() over ({{ in_order }}) as decision_number,
        lead(decided_on) over ({{ in_order }}) as next_decided_on,
        lead(decision_id) over ({{ in_order }}) is null as is_last
    from placed
)

select * from numbered
