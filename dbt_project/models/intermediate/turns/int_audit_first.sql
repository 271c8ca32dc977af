with chances as (
    select * from {{ ref('int_audit_chances') }}
),

looked_at as (
    select * from {{ ref('int_audit_statistics') }}
    where is_enough
),

looks as (
    {{ audit_looks(1, threshold('audit_first_draws')) }}
)

select * from looks
