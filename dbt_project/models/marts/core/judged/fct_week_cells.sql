with weeks as (
    select * from {{ ref('fct_measure_weeks') }}
    where
        level_code in ('school', 'grade')
        and (value is not null or coalesce(denominator_count, 0) > 0)
),

terms as (
    select * from {{ ref('fct_measures_judged') }}
    where level_code in ('school', 'grade') and window_code = 'term'
),

school_terms as (
    select * from {{ ref('dim_terms') }}
    where is_current
),

windows as (
    select * from {{ ref('int_class_windows') }}
    where window_code = 'last_20'
),

-- The last days, where they are whole weeks and leave two weeks or more of the term before them.
last_days as (
    select
        windows.school_id,
        max(windows.first_on) as first_on
    from windows
    inner join school_terms on windows.school_id = school_terms.school_id
    group by windows.school_id
    having
        max(windows.first_on) = {{ week_first('max(windows.first_on)') }}
        and {{ days_between('min(school_terms.first_on)', 'max(windows.first_on)') }} > 7
),

-- Weeks add up to their term, and then the latest of them to the last days: company is found among
-- those of the same part, so that neither sum tells.
cells as (
    select
        weeks.school_id,
        weeks.level_code,
        weeks.grade_code,
        weeks.routine_id,
        weeks.term_id,
        weeks.measure_name,
        weeks.week_first_on,
        cast(weeks.week_first_on as string) as week_code,
        coalesce(weeks.week_first_on >= last_days.first_on, false) as is_of_last_days,
        coalesce(weeks.denominator_count, weeks.session_count) as look_count,
        terms.reason is not null as is_gone,
        case when weeks.class_count < {{ few_classes() }} then 'few_classes' end as own_reason,
        terms.group_reason is null
        and (terms.reason is not null or weeks.class_count < {{ few_classes() }}) as is_closing
    from weeks
    inner join terms
        on
            weeks.school_id = terms.school_id
            and weeks.level_code = terms.level_code
            and weeks.grade_code = terms.grade_code
            and weeks.routine_id = terms.routine_id
            and weeks.term_id = terms.term_id
            and weeks.measure_name = terms.measure_name
    left join last_days on weeks.school_id = last_days.school_id
)

select * from cells
