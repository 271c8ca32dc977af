with outcomes as (
    select * from {{ ref('fct_coaching_outcomes') }}
),

terms as (
    select * from {{ ref('dim_terms') }}
    where has_started and is_current_year
),

counted as (
    select
        terms.school_id,
        terms.term_id,
        count(distinct outcomes.class_id) as class_count,
        count(outcomes.cycle_id) as cycle_count,
        count(*) filter (where outcomes.is_open) as open_count,
        count(*) filter (where not outcomes.is_open) as closed_count,
        count(*) filter (where outcomes.outcome_code = 'moved') as moved_count,
        count(*) filter (where outcomes.outcome_code = 'same') as same_count,
        count(*) filter (where outcomes.outcome_code = 'early') as early_count
    from terms
    left join outcomes
        on
            terms.school_id = outcomes.school_id
            and terms.term_id = outcomes.term_id
    group by terms.school_id, terms.term_id
),

-- Who is coached is no secret in a staff room: counts over one or two classes would be a verdict
-- on them. None at all is nobody's figure.
judged as (
    select
        *,
        case
            when class_count between 1 and {{ few_classes() }} - 1 then 'few_classes'
        end as reason
    from counted
),

shown as (
    select
        school_id,
        term_id,
        {%- for figure in ['cycle', 'open', 'closed', 'moved', 'same', 'early'] %}
        case when reason is null then {{ figure }}_count end as {{ figure }}_count,
        {%- endfor %}
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from judged
)

select * from shown
