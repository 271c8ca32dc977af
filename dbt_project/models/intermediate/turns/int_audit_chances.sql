{#- A cycle that takes more days than this is looked at in so many stretches of days. -#}
{%- set most_sittings = 10 -%}
with draws as (
    select * from {{ ref('int_draws') }}
    where
        is_offered
        and is_member
        and term_id is not null
        and (method = 'with_replacement' or cycle_key is not null)
),

turn_days as (
    select * from {{ ref('int_turn_days') }}
    where is_eligible
),

-- Cards go back when a cycle ends; where they go back at once, a day is a box of its own.
boxed as (
    select
        class_id,
        method,
        coalesce(cycle_key, cast(drawn_on as string)) as box_id,
        drawn_on,
        pupil_id,
        max_by(term_id, drawn_on) over (
            partition by class_id, method, coalesce(cycle_key, cast(drawn_on as string))
        ) as term_id
    from draws
),

pupil_turns as (
    select
        class_id,
        method,
        box_id,
        drawn_on,
        pupil_id,
        count(*) as turn_count
    from boxed
    group by class_id, method, box_id, drawn_on, pupil_id
),

box_days as (
    select
        class_id,
        term_id,
        method,
        box_id,
        drawn_on,
        row_number() over (
            partition by class_id, method, box_id
            order by drawn_on
        ) as day_number,
        count(*) over (partition by class_id, method, box_id) as day_count
    from boxed
    group by class_id, term_id, method, box_id, drawn_on
),

sittings as (
    select
        *,
        case
            when day_count <= {{ most_sittings }} then day_number
            else cast(
                ceil(day_number * cast({{ most_sittings }} as double) / day_count) as bigint
            )
        end as sitting
    from box_days
),

chances as (
    select
        sittings.class_id || '|' || sittings.term_id || '|' || sittings.method as audit_id,
        sittings.class_id,
        sittings.term_id,
        sittings.method,
        sittings.box_id,
        sittings.sitting,
        turn_days.pupil_id,
        cast(sum(coalesce(pupil_turns.turn_count, 0)) as bigint) as turn_count
    from sittings
    inner join turn_days
        on sittings.class_id = turn_days.class_id and sittings.drawn_on = turn_days.drawn_on
    left join pupil_turns
        on
            sittings.class_id = pupil_turns.class_id
            and sittings.method = pupil_turns.method
            and sittings.box_id = pupil_turns.box_id
            and sittings.drawn_on = pupil_turns.drawn_on
            and turn_days.pupil_id = pupil_turns.pupil_id
    group by
        sittings.class_id,
        sittings.term_id,
        sittings.method,
        sittings.box_id,
        sittings.sitting,
        turn_days.pupil_id
)

select * from chances
