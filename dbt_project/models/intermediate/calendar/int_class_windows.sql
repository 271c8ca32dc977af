with class_days as (
    select * from {{ ref('int_class_days') }}
    where is_elapsed
),

terms as (
    select * from {{ ref('int_leaf_terms') }}
),

class_terms as (
    select distinct
        school_id,
        class_id,
        term_id
    from class_days
),

of_terms as (
    select
        classes.school_id,
        classes.class_id,
        terms.term_id,
        'term' as window_code,
        cast(null as date) as week_first_on,
        terms.first_on,
        least(terms.last_on, {{ as_of_on() }}) as last_on
    from class_terms as classes
    inner join terms
        on classes.school_id = terms.school_id and classes.term_id = terms.term_id
),

recent as (
    select
        school_id,
        class_id,
        day_on,
        row_number() over (partition by class_id order by day_on desc) as days_back
    from class_days
    where is_in_session
),

of_last_days as (
    select
        recent.school_id,
        recent.class_id,
        max(terms.term_id) as term_id,
        'last_20' as window_code,
        cast(null as date) as week_first_on,
        min(recent.day_on) as first_on,
        {{ as_of_on() }} as last_on
    from recent
    inner join terms on recent.school_id = terms.school_id and terms.is_current
    where recent.days_back <= {{ threshold('last_days') }}
    group by recent.school_id, recent.class_id
),

of_weeks as (
    select
        school_id,
        class_id,
        term_id,
        'week' as window_code,
        week_first_on,
        min(day_on) as first_on,
        max(day_on) as last_on
    from class_days
    group by school_id, class_id, term_id, week_first_on
),

windows as (
    select * from of_terms
    union all
    select * from of_last_days
    union all
    select * from of_weeks
)

select * from windows
