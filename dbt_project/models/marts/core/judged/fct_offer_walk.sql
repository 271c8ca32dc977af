{%- set line = threshold('criterion') -%}
{%- set quiet = threshold('offer_quiet_visits') -%}
with recursive tests as (
    select
        *,
        row_number() over (partition by class_id, routine_id, term_id order by review_on) as step
    from {{ ref('fct_offer_tests') }}
    where is_review
),

-- From review to review. A line begins to stand when a review finds it. It is `back` once the
-- visits since then are enough and their mean is at the line; it closes when some visits more have
-- brought no run under the line. What was closed is found again only after such a run.
walked as (
    select
        class_id,
        routine_id,
        term_id,
        step,
        review_on,
        measure_name,
        case when is_found then 'open' else 'none' end as phase,
        case when is_found then review_on end as begun_on,
        case when is_found then session_count end as begun_sessions,
        case when is_found then score_sum end as begun_sum,
        cast(null as bigint) as turned_sessions
    from tests
    where step = 1
    union all
    select
        class_id,
        routine_id,
        term_id,
        step,
        review_on,
        measure_name,
        phase,
        case
            when phase = 'open' and phase_before in ('none', 'closed') then review_on
            else begun_on
        end as begun_on,
        case
            when phase in ('none', 'closed') then begun_sessions
            when phase_before in ('none', 'closed') or is_other then session_count
            else begun_sessions
        end as begun_sessions,
        case
            when phase in ('none', 'closed') then begun_sum
            when phase_before in ('none', 'closed') or is_other then score_sum
            else begun_sum
        end as begun_sum,
        -- Visits when the mean came back, or when the line was closed.
        case
            when phase = 'open' or phase = 'none' then null
            when phase != phase_before or has_run then session_count
            else turned_sessions
        end as turned_sessions
    from (
        select
            *,
            case
                when phase_before = 'none' and is_found then 'open'
                when phase_before = 'closed' and is_found and has_run then 'open'
                when phase_before in ('none', 'closed') then phase_before
                when not is_back then 'open'
                when
                    phase_before = 'back'
                    and not has_run
                    and session_count - turned_sessions >= {{ quiet }}
                    then 'closed'
                else 'back'
            end as phase
        from (
            select
                tests.class_id,
                tests.routine_id,
                tests.term_id,
                tests.step,
                tests.review_on,
                tests.measure_name,
                tests.session_count,
                tests.score_sum,
                tests.is_found,
                walked.phase as phase_before,
                walked.begun_on,
                walked.begun_sessions,
                walked.begun_sum,
                walked.turned_sessions,
                tests.measure_name != walked.measure_name as is_other,
                tests.measure_name = walked.measure_name
                and {{ reaches(mean_since('tests', 'walked'), line) }} as is_back,
                coalesce(tests.last_run_number >= walked.turned_sessions + {{ quiet }}, false)
                    as has_run
            from walked
            inner join tests
                on
                    walked.class_id = tests.class_id
                    and walked.routine_id = tests.routine_id
                    and walked.term_id = tests.term_id
                    and walked.step + 1 = tests.step
        ) as followed
    ) as decided
)

select * from walked
