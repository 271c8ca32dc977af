with draws as (
    select * from {{ ref('int_draws') }}
    where is_by_lot and is_offered and is_member and term_id is not null
),

turn_days as (
    select * from {{ ref('int_turn_days') }}
    where is_eligible
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

numbered as (
    select
        *,
        row_number() over (
            partition by class_id
            order by drawn_on, sequence_number, draw_id
        ) as turn_number
    from draws
),

-- From one turn of a child to the next; before the first, from the day the child joined.
waits as (
    select
        class_id,
        pupil_id,
        turn_number as from_number,
        lead(turn_number) over (
            partition by class_id, pupil_id
            order by turn_number
        ) as to_number
    from numbered
    union all
    select
        class_pupils.class_id,
        class_pupils.pupil_id,
        coalesce(
            max(numbered.turn_number) filter (where numbered.drawn_on < class_pupils.begin_on), 0
        ) as from_number,
        min(numbered.turn_number) filter (
            where numbered.pupil_id = class_pupils.pupil_id
            and numbered.drawn_on >= class_pupils.begin_on
        ) as to_number
    from class_pupils
    inner join numbered on class_pupils.class_id = numbered.class_id
    group by class_pupils.class_id, class_pupils.pupil_id, class_pupils.begin_on
),

-- Since when each child who was there had waited at each turn by the queue.
standing as (
    select
        numbered.class_id,
        numbered.term_id,
        numbered.turn_number,
        numbered.pupil_id = turn_days.pupil_id as is_drawn,
        min(waits.from_number) as from_number
    from numbered
    inner join turn_days
        on
            numbered.class_id = turn_days.class_id
            and numbered.drawn_on = turn_days.drawn_on
    inner join waits
        on
            turn_days.class_id = waits.class_id
            and turn_days.pupil_id = waits.pupil_id
            and numbered.turn_number > waits.from_number
            and numbered.turn_number <= coalesce(waits.to_number, numbered.turn_number)
    where numbered.method = 'queue'
    group by
        numbered.class_id,
        numbered.term_id,
        numbered.turn_number,
        numbered.pupil_id = turn_days.pupil_id
),

compared as (
    select
        class_id,
        term_id,
        turn_number,
        max(from_number) filter (where is_drawn) as drawn_from,
        min(from_number) filter (where not is_drawn) as other_from
    from standing
    group by class_id, term_id, turn_number
),

queue as (
    select
        class_id || '|' || term_id || '|queue' as audit_id,
        class_id,
        term_id,
        'queue' as method,
        count(*) as turn_count,
        count(*) filter (where drawn_from > other_from) as passed_over_count
    from compared
    where drawn_from is not null
    group by class_id, term_id
)

select * from queue
