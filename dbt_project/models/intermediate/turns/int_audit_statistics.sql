with chances as (
    select * from {{ ref('int_audit_chances') }}
),

audits as (
    select distinct
        audit_id,
        class_id,
        term_id,
        method
    from chances
),

observed as (
    {{ draw_statistics('chances') }}
),

statistics as (
    select
        audits.audit_id,
        audits.class_id,
        audits.term_id,
        audits.method,
        observed.turn_count >= {{ threshold('audit_min_turns') }} as is_enough,
        observed.turn_count,
        observed.pupil_count,
        observed.statistic
    from observed
    inner join audits on observed.audit_id = audits.audit_id
)

select * from statistics
