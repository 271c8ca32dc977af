with draws as (
    select * from {{ ref('stg_classroom__draws') }}
    where {{ is_known('drawn_on', 'entered_at') }}
),

classes as (
    select * from {{ ref('stg_roster__classes') }}
),

class_pupils as (
    select * from {{ ref('int_class_pupils') }}
),

term_days as (
    select * from {{ ref('int_term_days') }}
),

placed as (
    select
        draws.*,
        classes.school_id,
        term_days.term_id,
        term_days.school_year_ends,
        {{ week_first('draws.drawn_on') }} as week_first_on,
        draws.outcome in ('answered', 'helped', 'passed', 'other_way') as is_offered,
        draws.outcome in ('answered', 'helped', 'other_way') as is_taken,
        draws.method in ('cycle', 'with_replacement', 'queue') as is_by_lot,
        case
            when draws.method = 'cycle' then
                {{ days_between(
                    'lag(draws.drawn_on) over (
                        partition by draws.class_id, draws.method, draws.cycle_number
                        order by draws.drawn_on
                    )',
                    'draws.drawn_on'
                ) }} > 60
        end as begins_again
    from draws
    inner join classes on draws.class_id = classes.class_id
    left join term_days
        on classes.school_id = term_days.school_id and draws.drawn_on = term_days.day_on
),

members as (
    select distinct placed.draw_id
    from placed
    inner join class_pupils
        on
            placed.class_id = class_pupils.class_id
            and placed.pupil_id = class_pupils.pupil_id
            and placed.drawn_on >= class_pupils.begin_on
            and placed.drawn_on < class_pupils.end_on
),

-- Numbers may begin again with a new term: the same number after two quiet months is a new cycle.
known_draws as (
    select
        placed.*,
        members.draw_id is not null as is_member,
        case
            when placed.method = 'cycle' and placed.cycle_number is not null then
                placed.cycle_number || '.' || count(*) filter (where placed.begins_again) over (
                    partition by placed.class_id, placed.method, placed.cycle_number
                    order by placed.drawn_on
                )
        end as cycle_key
    from placed
    left join members on placed.draw_id = members.draw_id
)

select * from known_draws
