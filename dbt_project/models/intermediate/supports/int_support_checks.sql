with checks as (
    select * from {{ ref('stg_supports__support_checks') }}
    where {{ is_known('checked_on') }}
),

plans as (
    select * from {{ ref('stg_supports__support_plans') }}
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

term_days as (
    select * from {{ ref('int_term_days') }}
),

planned as (
    select
        checks.*,
        plans.pupil_id,
        plans.tier_code,
        plans.support_kind,
        plans.begin_on <= checks.checked_on and checks.checked_on <= plans.end_on
            as is_within_plan
    from checks
    inner join plans on checks.support_id = plans.support_id
),

-- The pupil's class on that day; of several the home class.
of_class as (
    select
        planned.*,
        class_pupils.school_id,
        class_pupils.class_id
    from planned
    left join class_pupils
        on
            planned.pupil_id = class_pupils.pupil_id
            and planned.checked_on >= class_pupils.begin_on
            and planned.checked_on < class_pupils.end_on
    qualify row_number() over (
        partition by planned.check_id
        order by class_pupils.is_primary desc nulls last, class_pupils.class_id asc
    ) = 1
),

-- Sessions lost because the pupil was away do not count against the plan.
final as (
    select
        of_class.*,
        term_days.term_id,
        {{ week_first('of_class.checked_on') }} as week_first_on,
        case
            when of_class.not_delivered_reason = 'pupil_absent'
                then greatest(0, of_class.planned_count - of_class.delivered_count)
            else 0
        end as absent_count
    from of_class
    left join term_days
        on
            of_class.school_id = term_days.school_id
            and of_class.checked_on = term_days.day_on
)

select * from final
