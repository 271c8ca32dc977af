with slots as (
    select * from {{ ref('int_plan_slots') }}
    where is_due
),

deliveries as (
    select * from {{ ref('int_plan_deliveries') }}
),

routines as (
    select * from {{ ref('int_routine_versions') }}
    where is_newest
),

enrolment as (
    select * from {{ ref('int_class_day_enrolment') }}
),

given as (
    select * from deliveries
    where delivered_share > 0
),

cancelled as (
    select * from deliveries
    where delivered_share = 0
),

-- Lessons fill the slots in order; two halves make one. The lesson that ends in the slot names it.
filled as (
    select
        slots.slot_id,
        max_by(given.lesson_id, given.filled_to) as lesson_id,
        max(given.taught_on) as taught_on,
        max_by(given.pupils_present_count, given.filled_to) as pupils_present_count,
        max_by(given.enrolled_count, given.filled_to) as enrolled_count,
        sum(
            least(given.filled_to, slots.slot_number)
            - greatest(given.filled_from, slots.slot_number - 1)
        ) as credit
    from slots
    inner join given
        on
            slots.plan_id = given.plan_id
            and slots.class_id = given.class_id
            and slots.slot_number > given.filled_from
            and given.filled_to > slots.slot_number - 1
    group by slots.slot_id
),

numbered as (
    select
        slots.*,
        filled.lesson_id,
        filled.taught_on,
        filled.pupils_present_count,
        coalesce(filled.enrolled_count, enrolment.enrolled_count) as enrolled_count,
        routines.tier_code,
        coalesce(filled.credit, 0.0) as credit,
        row_number() over (
            partition by slots.plan_id, slots.class_id, filled.slot_id is null
            order by slots.slot_number
        ) as empty_number
    from slots
    left join filled on slots.slot_id = filled.slot_id
    left join routines on slots.routine_id = routines.routine_id
    left join enrolment
        on slots.class_id = enrolment.class_id and slots.due_on = enrolment.day_on
),

-- A slot left empty is explained by a lesson called off, one for one; else nobody wrote anything.
explained as (
    select
        numbered.*,
        cancelled.cancel_reason,
        case
            when numbered.credit >= 1.0 - 1e-9 then 'delivered'
            when numbered.credit > 0.0 then 'partly'
            when cancelled.lesson_id is not null then 'cancelled'
            else 'not_logged'
        end as status
    from numbered
    left join cancelled
        on
            numbered.plan_id = cancelled.plan_id
            and numbered.class_id = cancelled.class_id
            and numbered.credit = 0.0
            and numbered.empty_number = cancelled.cancelled_number
)

select * from explained
