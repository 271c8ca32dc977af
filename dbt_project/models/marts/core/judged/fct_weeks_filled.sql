with seen_weeks as (
    select * from {{ ref('fct_measure_weeks') }}
    where level_code in ('school', 'grade', 'class')
),

measures as (
    select * from {{ ref('fct_measures_judged') }}
    where
        level_code in ('school', 'grade', 'class')
        and window_code = 'term'
),

weeks as (
    select * from {{ ref('dim_weeks') }}
    where is_elapsed
),

weekly_names as (
    select distinct measure_name
    from seen_weeks
),

-- A count of people a week apart from the term's would open what the term withholds.
series as (
    select
        measures.school_id,
        measures.level_code,
        measures.class_id,
        measures.grade_code,
        measures.routine_id,
        measures.term_id,
        measures.measure_name,
        measures.group_reason as reason
    from measures
    inner join weekly_names on measures.measure_name = weekly_names.measure_name
    where
        not {{ counts_people('measures.measure_name') }}
        and not {{ is_about_supported('measures.measure_name') }}
),

filled as (
    select
        series.school_id,
        series.level_code,
        series.class_id,
        series.grade_code,
        series.routine_id,
        series.term_id,
        cast(weeks.week_number as bigint) as week_number,
        weeks.week_first_on,
        cast(weeks.week_first_on + interval 4 day as date) as week_last_on,
        series.measure_name,
        coalesce(seen_weeks.sufficiency, 'none') as sufficiency,
        coalesce(seen_weeks.status, 'none') as status,
        series.reason,
        weeks.is_break,
        coalesce(seen_weeks.session_count, 0) as session_count,
        coalesce(seen_weeks.unit_count, 0) as unit_count,
        seen_weeks.numerator_count,
        seen_weeks.denominator_count,
        seen_weeks.value,
        seen_weeks.low,
        seen_weeks.high
    from series
    inner join weeks
        on
            series.school_id = weeks.school_id
            and series.term_id = weeks.term_id
    left join seen_weeks
        on
            series.school_id = seen_weeks.school_id
            and series.level_code = seen_weeks.level_code
            and series.class_id = seen_weeks.class_id
            and series.grade_code = seen_weeks.grade_code
            and series.routine_id = seen_weeks.routine_id
            and series.term_id = seen_weeks.term_id
            and series.measure_name = seen_weeks.measure_name
            and weeks.week_first_on = seen_weeks.week_first_on
)

select * from filled
