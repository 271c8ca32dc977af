with schools as (
    select * from {{ ref('dim_schools') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
),

weeks as (
    select * from {{ ref('dim_weeks') }}
),

files as (
    select * from {{ ref('fct_files') }}
),

week_counts as (
    select
        school_id,
        term_id,
        count(*) as week_count,
        max(week_number) filter (where is_elapsed) as week_number,
        max(week_first_on) filter (where is_elapsed) as week_first_on
    from weeks
    group by school_id, term_id
),

received as (
    select max(cast(received_at as date)) as last_received_on
    from files
),

judged as (
    select
        school_id,
        school_name,
        class_count,
        pupil_count,
        {{ small_group_reason('pupil_count', 'class_count') }} as reason
    from schools
),

shown as (
    select
        judged.school_id,
        judged.school_name,
        cast(terms.school_year_ends as string) as school_year,
        terms.term_id,
        terms.title as term_title,
        terms.first_on as term_first_on,
        terms.last_on as term_last_on,
        cast(week_counts.week_number as bigint) as week_number,
        cast(week_counts.week_count as bigint) as week_count,
        week_counts.week_first_on,
        cast(judged.class_count as bigint) as class_count,
        case when judged.reason is null then cast(judged.pupil_count as bigint) end as pupil_count,
        cast({{ threshold('criterion') }} as double) as criterion,
        cast({{ threshold('small_cell') }} as bigint) as small_cell,
        {{ 'true' if var('is_demo', false) else 'false' }} as is_demo,
        {{ withheld_columns('judged.reason') }},
        received.last_received_on,
        {{ lineage_columns() }},
        {{ built_at() }} as built_at
    from judged
    inner join terms
        on
            judged.school_id = terms.school_id
            and terms.is_current
    inner join week_counts
        on
            terms.school_id = week_counts.school_id
            and terms.term_id = week_counts.term_id
    cross join received
)

select * from shown
