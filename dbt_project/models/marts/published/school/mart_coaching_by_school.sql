with cycles as (
    select * from {{ ref('fct_coaching_outcomes') }}
),

-- Moved is moved up here: how many went down is not counted apart in so few.
outcomes as (
    select
        school_id,
        term_id,
        cycle_id,
        class_id,
        is_open,
        case outcome_code
            when 'moved_up' then 'moved'
            when 'moved_down' then 'same'
            else outcome_code
        end as outcome_code
    from cycles
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
        count(*) filter (where outcomes.outcome_code = 'early') as early_count,
        {%- for outcome in ['moved', 'same', 'early'] %}
        count(distinct outcomes.class_id) filter (where outcomes.outcome_code = '{{ outcome }}')
            as {{ outcome }}_class_count,
        {%- endfor %}
        count(distinct outcomes.class_id) filter (where outcomes.is_open) as open_class_count,
        count(distinct outcomes.class_id) filter (where not outcomes.is_open) as closed_class_count
    from terms
    left join outcomes
        on
            terms.school_id = outcomes.school_id
            and terms.term_id = outcomes.term_id
    group by terms.school_id, terms.term_id
),

-- Who is coached is no secret in a staff room: counts over one or two classes would be a verdict
-- on them. None at all is nobody's figure. What adds up to the cycles goes together; and where all
-- came to the same, the count would say of each what came of it.
judged as (
    select
        *,
        case
            when class_count between 1 and {{ few_classes() }} - 1 then 'few_classes'
        end as reason,
        {{ is_of_few(['open', 'closed']) }} as is_state_few,
        {{ is_of_few(['moved', 'same', 'early']) }}
        or cycle_count = greatest(moved_count, same_count, early_count) as is_outcome_few
    from counted
),

shown as (
    select
        school_id,
        term_id,
        case when reason is null then cycle_count end as cycle_count,
        {%- for figure in ['open', 'closed'] %}
        case
            when reason is null and (cycle_count = 0 or not is_state_few) then {{ figure }}_count
        end as {{ figure }}_count,
        {%- endfor %}
        {%- for figure in ['moved', 'same', 'early'] %}
        case
            when reason is null and (cycle_count = 0 or not is_outcome_few) then {{ figure }}_count
        end as {{ figure }}_count,
        {%- endfor %}
        {{ withheld_columns('reason') }},
        {{ lineage_columns() }}
    from judged
)

select * from shown
