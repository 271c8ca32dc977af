with chances as (
    select * from {{ ref('int_audit_chances') }}
),

statistics as (
    select * from {{ ref('int_audit_statistics') }}
),

first_looks as (
    select * from {{ ref('int_audit_first') }}
),

-- What the first look found unusual; the others are known well enough.
looked_at as (
    select statistics.*
    from statistics
    inner join first_looks on statistics.audit_id = first_looks.audit_id
    where
        {{ monte_carlo_p(
            'first_looks.above_count + first_looks.same_count', 'first_looks.simulation_count'
        ) }} <= {{ threshold('audit_first_p') }}
),

looks as (
    {{ audit_looks(threshold('audit_first_draws') ~ ' + 1', threshold('audit_draws')) }}
)

select * from looks
