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

counts as (
    select * from {{ ref('dim_measure_counts') }}
),

week_cells as (
    select * from {{ ref('fct_weeks_withheld') }}
),

weekly_names as (
    select distinct measure_name
    from seen_weeks
),

-- A count of people a week apart from the term's would open what the term withholds. What is
-- withheld for the term is withheld every week.
series as (
    select
        measures.school_id,
        measures.level_code,
        measures.class_id,
        measures.grade_code,
        measures.routine_id,
        measures.term_id,
        measures.measure_name,
        measures.reason
    from measures
    inner join weekly_names on measures.measure_name = weekly_names.measure_name
    inner join counts
        on
            measures.measure_name = counts.measure_name
            and not counts.is_over_children
            and not counts.is_about_supported
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
        coalesce(series.reason, week_cells.reason) as reason,
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
    left join week_cells
        on
            series.level_code in ('school', 'grade')
            and series.school_id = week_cells.school_id
            and series.level_code = week_cells.level_code
            and series.grade_code = week_cells.grade_code
            and series.routine_id = week_cells.routine_id
            and series.term_id = week_cells.term_id
            and series.measure_name = week_cells.measure_name
            and weeks.week_first_on = week_cells.week_first_on
)

select * from filled
