with sides as (
    select * from {{ ref('fct_offer_sides') }}
),

lasting as (
    select * from {{ ref('fct_offer_lasting') }}
),

classes as (
    select * from {{ ref('dim_classes') }}
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

seconded as (
    select
        sides.*,
        coalesce(lasting.is_lasting, false) as is_lasting,
        lasting.newest_on,
        count(*) filter (where sides.is_below) over (
            partition by sides.class_id, sides.routine_id
        ) as below_count,
        row_number() over (
            partition by sides.class_id, sides.routine_id
            order by
                case when sides.is_below then 0 else 1 end,
                case when sides.is_readable then 0 else 1 end,
                case when sides.sufficiency = 'none' then 1 else 0 end,
                sides.lead_order
        ) as place
    from sides
    left join lasting
        on
            sides.class_id = lasting.class_id
            and sides.routine_id = lasting.routine_id
            and sides.measure_name = lasting.measure_name
),

lines as (
    select
        pairs.school_id,
        pairs.class_id,
        classes.title as class_title,
        classes.grade_codes,
        pairs.routine_id,
        terms.term_id,
        coalesce(seconded.measure_name, 'responsiveness') as measure_name,
        coalesce(seconded.sufficiency, 'none') as sufficiency,
        coalesce(seconded.status, 'none') as status,
        planned.routine_id is not null as is_planned,
        coalesce(seconded.is_readable, false) as is_readable,
        coalesce(seconded.is_below, false) as is_below,
        coalesce(seconded.below_count > 1, false) as is_below_twice,
        coalesce(seconded.is_down, false) as is_down,
        coalesce(seconded.is_lasting and seconded.is_below, false) as is_lasting,
        seconded.newest_on,
        coalesce(seconded.session_count, 0) as session_count,
        coalesce(seconded.day_count, 0) as day_count,
        seconded.numerator_count,
        seconded.denominator_count,
        seconded.value,
        seconded.low,
        seconded.high,
        seconded.high_one_sided,
        seconded.previous_value,
        seconded.previous_sufficiency
    from pairs
    inner join classes on pairs.class_id = classes.class_id
    inner join terms on pairs.school_id = terms.school_id
    left join planned
        on
            pairs.class_id = planned.class_id
            and pairs.routine_id = planned.routine_id
            and terms.term_id = planned.term_id
    left join seconded
        on
            pairs.class_id = seconded.class_id
            and pairs.routine_id = seconded.routine_id
            and seconded.place = 1
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
