with leads as (
    select * from {{ ref('fct_offer_leads') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
    where is_current
),

class_grades as (
    select * from {{ ref('dim_class_grades') }}
),

routines as (
    select * from {{ ref('dim_routines') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

slots as (
    select * from {{ ref('fct_plan_slots') }}
),

-- Every routine that is meant for a grade of the class has a line, so that silence has a reason.
routine_grades as (
    select
        routine_id,
        {{ each_part("coalesce(grade_codes, '*')") }} as grade_code
    from routines
),

pairs as (
    select distinct
        class_grades.class_id,
        class_grades.school_id,
        routine_grades.routine_id
    from class_grades
    inner join routine_grades
        on
            class_grades.grade_code = routine_grades.grade_code
            or routine_grades.grade_code = '*'
),

planned as (
    select distinct
        class_id,
        routine_id,
        term_id
    from slots
),

lines as (
    select
        pairs.school_id,
        pairs.class_id,
        classes.title as class_title,
        classes.grade_codes,
        pairs.routine_id,
        terms.term_id,
        coalesce(leads.measure_name, 'responsiveness') as measure_name,
        coalesce(leads.sufficiency, 'none') as sufficiency,
        coalesce(leads.status, 'none') as status,
        planned.routine_id is not null as is_planned,
        coalesce(leads.is_readable, false) as is_readable,
        coalesce(leads.is_below, false) as is_below,
        coalesce(leads.is_below_twice, false) as is_below_twice,
        coalesce(leads.is_down, false) as is_down,
        coalesce(leads.is_lasting, false) as is_lasting,
        leads.newest_on,
        coalesce(leads.session_count, 0) as session_count,
        coalesce(leads.day_count, 0) as day_count,
        leads.numerator_count,
        leads.denominator_count,
        leads.value,
        leads.low,
        leads.high,
        leads.high_one_sided,
        leads.previous_value,
        leads.previous_sufficiency
    from pairs
    inner join classes on pairs.class_id = classes.class_id
    inner join terms on pairs.school_id = terms.school_id
    left join planned
        on
            pairs.class_id = planned.class_id
            and pairs.routine_id = planned.routine_id
            and terms.term_id = planned.term_id
    left join leads
        on
            pairs.class_id = leads.class_id
            and pairs.routine_id = leads.routine_id
),

signed as (
    select
        *,
        cast(is_below as bigint)
        + cast(is_below_twice as bigint)
        + cast(is_below and is_down as bigint) as sign_count
    from lines
),

-- The seam for false-discovery control: what passes here is what one review would look at.
judged as (
    select
        *,
        is_planned
        and is_below
        and (sign_count >= {{ threshold('offer_signs') }} or is_lasting) as shows_it
    from signed
)

select * from judged
