with placed as (
    select * from {{ ref('fct_week_cells') }}
),

-- One routine in one grade: where any week of a measure rests on too few classes, none is shown.
closed as (
    select
        school_id,
        term_id,
        measure_name
    from placed
    where level_code = 'grade' and routine_id != '*'
    group by school_id, term_id, measure_name
    having bool_or(is_closing)
),

insides as (
    select
        placed.*,
        closed.measure_name is not null
        and placed.level_code = 'grade'
        and placed.routine_id != '*' as is_closed
    from placed
    left join closed
        on
            placed.school_id = closed.school_id
            and placed.term_id = closed.term_id
            and placed.measure_name = closed.measure_name
),

-- A routine that a grade was seen at in one week only is told by that of the term.
told as (
    select
        *,
        is_closed
        and (
            is_gone
            or count(*) over (
                partition by
                    school_id, level_code, term_id, measure_name, routine_id, grade_code
            ) > 1
        ) as is_unknown
    from insides
),

-- A grade's week that holds one such figure only, and a routine's week of one grade only, are that
-- figure. What is inside is not shown, so neither are they.
counted as (
    select
        *,
        {%- for side in ['grade_code', 'routine_id'] %}
        count(case when is_unknown then 1 end) over (
            partition by school_id, term_id, measure_name, week_code, {{ side }}
        ) as unknown_in_{{ side }},
        {%- endfor %}
        level_code = 'grade' and routine_id = '*' as is_grade_total
    from told
),

judged as (
    select
        school_id,
        level_code,
        grade_code,
        routine_id,
        term_id,
        measure_name,
        week_first_on,
        week_code,
        is_of_last_days,
        look_count,
        is_gone,
        is_closed,
        coalesce(
            own_reason,
            case
                when is_grade_total and unknown_in_grade_code = 1 then 'complementary'
                when
                    level_code = 'school' and routine_id != '*' and unknown_in_routine_id = 1
                    then 'complementary'
            end
        ) as own_reason
    from counted
)

select * from judged
